// What linking leaves to a person, kept as numbered groups.
#pragma once

#include <vector>

#include "book/book.h"
#include "link/assign.h"

namespace stripbook::day {

/// Without those of which a person said that they belong to no part: they are not asked about, and nothing
/// follows from them.
std::vector<link::PhotoSightings> without_settled_as_none(const book::Book& book,
                                                          std::vector<link::PhotoSightings> photos);

/// Groups what `found` left unsettled of `photos` and keeps the groups (book/unsettled_groups.h).
void keep_unsettled_groups(book::Book& book, const std::vector<link::PhotoSightings>& photos,
                           const link::Assignment& found, double link_time_s);

}  // namespace stripbook::day
