#include "day/unsettled_day.h"

#include <algorithm>
#include <iterator>
#include <set>

#include "book/photos_without_part.h"
#include "book/unsettled_groups.h"
#include "link/groups.h"

namespace stripbook::day {

namespace {

// Another book's tag, or one of which not even a suggestion could be read.
bool is_strange(const book::Sighting& seen, const number::BookCode& here) {
    if (seen.kind != book::SightingKind::tag) {
        return false;
    }
    const auto tag = seen.confirmed ? number::TagNumber::from_exact(seen.text) : std::nullopt;
    return tag ? tag->book() != here : seen.suggestions.empty();
}

std::set<book::PhotoNumber> with_strange_tags(const std::vector<link::PhotoSightings>& photos,
                                              const number::BookCode& here) {
    std::set<book::PhotoNumber> strange;
    for (const auto& p : photos) {
        if (std::any_of(p.sightings.begin(), p.sightings.end(),
                        [&](const book::Sighting& seen) { return is_strange(seen, here); })) {
            strange.insert(p.photo.number);
        }
    }
    return strange;
}

}  // namespace

std::vector<link::PhotoSightings> without_settled_as_none(const book::Book& book,
                                                          std::vector<link::PhotoSightings> photos) {
    const auto none = book::photos_without_part(book);
    std::erase_if(photos, [&](const link::PhotoSightings& p) { return none.count(p.photo.number) != 0; });
    return photos;
}

void keep_unsettled_groups(book::Book& book, const std::vector<link::PhotoSightings>& photos,
                           const link::Assignment& found, double link_time_s) {
    std::vector<book::Photo> taken;
    if (!found.unsettled.empty()) {
        std::transform(photos.begin(), photos.end(), std::back_inserter(taken),
                       [](const link::PhotoSightings& p) { return p.photo; });
    }
    link::GroupRules rules;
    rules.link_time_s = link_time_s;
    rules.held = book::groups_holding(book);
    rules.cut_before = book::group_cuts(book);
    rules.strange_tag = with_strange_tags(photos, book.code());
    book::keep_groups(book, link::groups_of(std::move(taken), found.unsettled, rules));
}

}  // namespace stripbook::day
