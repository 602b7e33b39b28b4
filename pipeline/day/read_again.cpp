#include "day/read_again.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "book/paths.h"
#include "book/photos.h"
#include "book/sightings.h"
#include "day/reader_version.h"
#include "day/reading_run.h"

namespace stripbook::day {

namespace {

std::string words_of(const book::Sighting& seen) {
    const std::string text = seen.text.empty() ? "a tag" : book::printable_name(seen.text);
    return seen.confirmed ? text : text + " (not sure)";
}

// In a fixed order, so that only what differs shows.
std::string words_of(book::ReadState state, const std::vector<book::Sighting>& sightings) {
    std::vector<std::string> words;
    std::transform(sightings.begin(), sightings.end(), std::back_inserter(words),
                   [](const book::Sighting& seen) { return words_of(seen); });
    std::sort(words.begin(), words.end());
    if (state == book::ReadState::damaged) {
        words.emplace_back("damaged");
    }
    return words.empty() ? "nothing" : fmt::format("{}", fmt::join(words, ", "));
}

}  // namespace

std::vector<book::Photo> photos_to_read_again(const book::Book& book, bool all) {
    auto photos = book::all_photos(book);
    std::erase_if(photos, [all](const book::Photo& photo) {
        const bool current = photo.read_by >= reader_version && photo.read_state != book::ReadState::not_yet;
        return current && !all;
    });
    return photos;
}

Rereading read_again(book::Book& book, bool all, const ReadOptions& options) {
    const auto photos = photos_to_read_again(book, all);
    auto before = book::all_sightings(book);
    Rereading rereading;
    const auto keep = [&](const book::Photo& photo, const PhotoReading& reading, bool came_back) {
        ++rereading.read;
        if (!came_back && photo.read_state == book::ReadState::read) {
            rereading.kept.push_back(fmt::format("{}: its earlier reading stays; {}", photo.number.text(),
                                                 reading.facts.read_note));
            return;
        }
        keep_reading(book, photo, reading);
        const std::string was = words_of(photo.read_state, before[photo.number]);
        const std::string is = words_of(reading.facts.read_state, reading.sightings);
        if (was != is) {
            rereading.changed.push_back({photo.number, was, is});
        }
    };
    read_in_workers(book, photos, options, keep);
    std::sort(rereading.changed.begin(), rereading.changed.end(),
              [](const ChangedReading& a, const ChangedReading& b) { return a.photo < b.photo; });
    return rereading;
}

}  // namespace stripbook::day
