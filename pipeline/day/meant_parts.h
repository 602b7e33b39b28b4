// Sightings of tags that mean another part than the one they were printed for.
#pragma once

#include <vector>

#include "book/records.h"
#include "book/tag_meanings.h"

namespace stripbook::day {

/// The sightings of one photo with every tag number, suggestions too, turned into the part it means at that
/// time; `how` says so. Done when photos are linked, not when they are read: what was read stays as it is.
std::vector<book::Sighting> with_meant_parts(std::vector<book::Sighting> sightings,
                                             const std::vector<book::TagMeaning>& meanings,
                                             double corrected_seconds);

}  // namespace stripbook::day
