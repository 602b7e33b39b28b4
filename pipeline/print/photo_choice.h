// Which of a part's photos go into which section of its report.
#pragma once

#include <utility>
#include <vector>

#include "book/part_file.h"

namespace stripbook::print {

/// In the order of the part's photos; the pointers live as long as they do.
struct SortedPhotos {
    std::vector<const book::PartPhoto*> large;
    bool stage_known = false;  ///< the large ones are marked as-removed; else they have no stage
    std::vector<const book::PartPhoto*> details;
    std::vector<const book::PartPhoto*> videos;
};

/// How the part sat before it was touched is shown large. Until a photo is marked as-removed (before the
/// first bench shot none is), those without a stage stand in.
SortedPhotos sorted_photos(const book::PartFile& part_file);

/// Pairs of photos, one of a stage and one of the next that the part has photos of, in the order of the work.
/// Of each stage its first photo, one without a scale marker before one with it. Empty until the part has
/// photos of two stages.
std::vector<std::pair<const book::PartPhoto*, const book::PartPhoto*>> before_and_after(
    const book::PartFile& part_file);

}  // namespace stripbook::print
