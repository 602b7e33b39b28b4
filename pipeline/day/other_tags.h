// Codes on other makers' tags, and the parts that wear them (the column "other tag" of the parts list).
#pragma once

#include <map>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::day {

/// The parts by the text of the other tag they wear. A text that two parts claim is left out: a wrong part is
/// worse than none.
std::map<std::string, number::TagNumber> parts_by_other_tag(const book::Book& book);

/// The sightings with every code that is a part's other tag told as that part's tag, confirmed. Done when
/// photos are linked, not when they are read: the parts list may say it later than the photo.
std::vector<book::Sighting> with_other_tags(std::vector<book::Sighting> sightings,
                                            const std::map<std::string, number::TagNumber>& parts);

}  // namespace stripbook::day
