#include "day/read_day.h"

#include <map>

#include "book/links.h"
#include "book/measured_parts.h"
#include "book/parts.h"
#include "book/photos.h"
#include "book/print_runs.h"
#include "book/settings.h"
#include "book/sightings.h"
#include "book/signatures.h"
#include "book/tag_meanings.h"
#include "day/meant_parts.h"
#include "day/other_tags.h"
#include "day/reading_run.h"
#include "day/retime.h"
#include "day/unsettled_day.h"
#include "link/assign.h"

namespace stripbook::day {

namespace {

constexpr double seconds_per_minute = 60;
constexpr const char* program = "stripbook";  // "who" of what the program does by itself

link::Rules rules_of(const book::Book& book, const std::vector<link::PhotoSightings>& photos) {
    link::Rules rules;
    rules.link_time_s = std::stod(book::setting(book, "link time")) * seconds_per_minute;
    rules.link_from = std::stod(book::setting(book, "link sureness"));
    rules.known_to_fiducials = book::printed_numbers(book);
    bool has_list = !rules.known_to_fiducials.empty();
    for (const auto& part : book::all_parts(book)) {
        rules.known.insert(part.tag);
        if (part.listed) {
            has_list = true;
            rules.known_to_fiducials.insert(part.tag);
        }
    }
    if (!has_list) {
        return rules;
    }
    for (const auto& p : photos) {
        rules.known_to_fiducials.insert(p.linked_by_person.begin(), p.linked_by_person.end());
        for (const auto& s : p.sightings) {
            const auto tag = s.confirmed && s.by_qr ? number::TagNumber::from_exact(s.text) : std::nullopt;
            if (tag) {
                rules.known_to_fiducials.insert(*tag);
            }
        }
    }
    return rules;
}

std::vector<link::PhotoSightings> photos_with_sightings(const book::Book& book) {
    std::map<book::PhotoNumber, std::vector<number::TagNumber>> linked;
    std::map<book::PhotoNumber, std::vector<number::TagNumber>> refused;
    for (const auto& link : book::all_links(book)) {
        if (link.by_person) {
            linked[link.photo].push_back(link.tag);
        }
    }
    for (const auto& refusal : book::all_refusals(book)) {
        refused[refusal.photo].push_back(refusal.tag);
    }
    auto sightings = book::all_sightings(book);
    auto signatures = book::all_signatures(book);
    const auto other_tags = parts_by_other_tag(book);
    const auto meanings = book::tag_meanings(book);
    std::vector<link::PhotoSightings> photos;
    for (auto& photo : book::all_photos(book)) {
        const book::PhotoNumber number = photo.number;
        auto seen = with_meant_parts(with_other_tags(sightings[number], other_tags), meanings,
                                     photo.corrected_seconds);
        photos.push_back({std::move(photo), std::move(seen), linked[number], refused[number],
                          std::move(signatures[number])});
    }
    return photos;
}

}  // namespace

std::size_t read_unread_photos(book::Book& book, const ReadOptions& options) {
    const auto unread = book::photos_to_read(book);
    read_in_workers(book, unread, options,
                    [&](const book::Photo& photo, const PhotoReading& reading, bool /*came_back*/) {
                        keep_reading(book, photo, reading);
                    });
    return unread.size();
}

LinkOutcome link_all(book::Book& book) {
    retime(book);
    const auto photos = without_settled_as_none(book, photos_with_sightings(book));
    const link::Rules rules = rules_of(book, photos);
    const link::Assignment found = link::assign(photos, book.code(), rules);
    book.together([&] {
        for (std::size_t i = 0; i < found.new_tags.size(); ++i) {
            book::add_seen_part(book, found.new_tags[i], found.seen_first_in[i], program);
        }
        book::replace_program_links(book, found.links, found.unsettled);
        keep_unsettled_groups(book, photos, found, rules.link_time_s);
        book::measurements_follow_links(book);
    });
    return {found.new_tags, found.other_book_tags};
}

}  // namespace stripbook::day
