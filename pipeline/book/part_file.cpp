#include "book/part_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "book/history.h"
#include "book/links.h"
#include "book/parts.h"
#include "book/photos.h"
#include "book/sightings.h"
#include "errors.h"

namespace stripbook::book {

namespace {

bool shows_scale_marker(const Book& book, PhotoNumber photo) {
    const auto sightings = sightings_of(book, photo);
    return std::any_of(sightings.begin(), sightings.end(),
                       [](const Sighting& s) { return s.kind == SightingKind::scale_marker && s.confirmed; });
}

std::vector<PartPhoto> photos_with_links(const Book& book, const number::TagNumber& tag) {
    std::vector<PartPhoto> photos;
    for (const auto& link : links_of(book, tag)) {
        if (auto photo = find_photo(book, link.photo)) {
            photos.push_back({*photo, link, shows_scale_marker(book, link.photo), "", false});
        }
    }
    std::sort(photos.begin(), photos.end(), [](const PartPhoto& a, const PartPhoto& b) {
        return std::tuple(a.photo.corrected_seconds, a.photo.number) <
               std::tuple(b.photo.corrected_seconds, b.photo.number);
    });
    return photos;
}

// `photos` in the order they were taken. While a part has not been on the bench, everything is before its
// first bench shot.
void set_stages(std::vector<PartPhoto>& photos) {
    const auto first_on_bench =
        std::find_if(photos.begin(), photos.end(), [](const PartPhoto& p) { return p.on_bench; });
    std::for_each(photos.begin(), first_on_bench, [](PartPhoto& p) { p.stage = stage_words[0]; });
    for (auto& p : photos) {
        if (p.photo.stage_by_person) {
            p.stage = *p.photo.stage_by_person;
            p.stage_by_person = true;
        }
    }
}

}  // namespace

PartFile gather_part(const Book& book, const number::TagNumber& tag) {
    auto part = find_part(book, tag);
    if (!part) {
        throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
    }
    PartFile file(*std::move(part));
    file.photos = photos_with_links(book, tag);
    set_stages(file.photos);
    file.measurements = measurements_of(book, tag);
    file.history = history_of(book, tag.text());
    return file;
}

}  // namespace stripbook::book
