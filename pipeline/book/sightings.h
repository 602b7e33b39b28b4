// What was seen in each photo.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// Replaces all sightings of a photo.
void save_sightings(Book& book, PhotoNumber photo, const std::vector<Sighting>& sightings);
std::vector<Sighting> sightings_of(const Book& book, PhotoNumber photo);
/// Of every photo that has any, without the corners of scale markers' fiducials.
std::map<PhotoNumber, std::vector<Sighting>> all_sightings(const Book& book);

/// The first photo, by number, in which this tag was read for sure and that belongs to its part.
std::optional<PhotoNumber> tag_shot_of(const Book& book, const number::TagNumber& tag);

/// Photos that show a scale marker: few among many.
std::set<PhotoNumber> photos_with_scale_marker(const Book& book);

}  // namespace stripbook::book
