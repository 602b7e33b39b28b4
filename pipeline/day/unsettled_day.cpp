#include "day/unsettled_day.h"

#include <algorithm>
#include <iterator>

#include "book/photos_without_part.h"
#include "book/unsettled_groups.h"
#include "link/groups.h"

namespace stripbook::day {

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
    book::keep_groups(book, link::groups_of(std::move(taken), found.unsettled, rules));
}

}  // namespace stripbook::day
