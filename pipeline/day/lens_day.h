// The lenses of the book's cameras, from all scale markers it has seen.
#pragma once

#include <map>
#include <vector>

#include "book/book.h"
#include "book/records.h"
#include "fiducial/find.h"
#include "scale/lens.h"

namespace stripbook::day {

/// Works out a profile for every camera, focal length and picture size with two or more photos of a scale
/// marker, and keeps it. Returns how many there are. At most the 60 latest photos each: more make the
/// parameters no better than the model is.
std::size_t estimate_lenses(book::Book& book);

/// The profile that serves a photo, else one from its EXIF focal length; and its words for people.
struct LensForPhoto {
    scale::LensProfile lens;
    std::string words;
};
LensForPhoto lens_for(const book::Book& book, const book::Photo& photo);

/// The fiducials of a scale marker as they were sighted.
std::vector<fiducial::Fiducial> fiducials_of(const book::Sighting& marker);

}  // namespace stripbook::day
