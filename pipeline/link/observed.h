// One photo as the model sees it, and the day of one camera.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "book/records.h"
#include "link/assign.h"

namespace stripbook::link {

/// Where a tag stands in its picture.
struct TagPlace {
    std::optional<double> log_size;  ///< learned.h; nothing when the sighting has no corners
    bool at_edge = false;
};

/// A confirmed tag of this book in a photo.
struct SeenTag : TagPlace {
    number::TagNumber tag;
    std::string how;
    bool by_qr = false;
};

struct Observed {
    const PhotoSightings* from = nullptr;
    double seconds = 0;                           ///< the photo's corrected time
    std::vector<SeenTag> tags;                    ///< each number once, and none that a person refused here
    std::vector<number::TagNumber> refused_tags;  ///< read in it, but a person said no
    std::vector<std::string> others;              ///< confirmed tags of other books
    std::vector<std::string> doubts;              ///< why another tag in view is not confirmed
    TagPlace doubt;                               ///< of the largest of them; one without a place comes first
    std::vector<number::TagNumber> suggestions;   ///< of those
    bool undecoded = false;
    bool tag_sheet = false;  ///< more never-seen numbers than one photo of parts shows
};

/// What the tags in one photo say.
Observed observe(const PhotoSightings& photo, const number::BookCode& here, const Rules& rules);

/// Marks the photos that show too many numbers which are neither known nor in any other photo.
void mark_tag_sheets(std::vector<Observed>& photos, const Rules& rules);

}  // namespace stripbook::link
