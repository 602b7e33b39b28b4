// Which stage each photo of a part shows, where that is certain, and how that is known.
//
//   A person's word on the photo counts first. Then a stage card in the picture; it holds for the photos
//   that the same camera took of the part right after it too, each within the link time, until another card
//   or another subject. Then a person's word on the part from that day on. Last the order of time: what was
//   taken before the part's first bench shot, or before it is first known to be at another stage (but not in
//   the same minutes), shows it as removed; and so does what was taken before a photo that is known to. Else
//   the stage is not set.
#pragma once

#include <string>
#include <vector>

#include "book/part_file.h"
#include "book/part_stages.h"

namespace stripbook::book {

/// What a photo itself tells of the stage.
struct StageSigns {
    std::vector<std::string> cards;  ///< stages on the confirmed stage cards in the picture
    /// The photo follows the part's photo before it of the same camera: within the link time, and that
    /// camera took nothing else between.
    bool follows = false;
    bool soon_after = false;  ///< within the link time after the part's photo before it, whatever the camera
};

/// `photos` in the order they were taken, `signs` one for each. Sets stage, stage_by_person and stage_why.
void set_stages(std::vector<PartPhoto>& photos, const std::vector<StageSigns>& signs,
                const std::vector<PartStage>& said_of_part);

}  // namespace stripbook::book
