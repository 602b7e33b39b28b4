// A stretch of one camera's photos and what is known of its clock there.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "link/clocks.h"
#include "link/clocks_fit.h"
#include "link/clocks_pieces.h"

namespace stripbook::link {

/// A moment when both a clock and the true time are known.
struct Anchor {
    ClockAnchor clock;
    std::size_t place = 0;  ///< in the readings
    bool by_person = false;
    std::string source;  ///< "clock shot p3", "Ana's word at p12"
};

struct ClockNode {
    const CameraEvidence* camera = nullptr;
    std::vector<ClockReading> readings;
    std::string began;
    bool lost_time = false;
    bool utc_offsets = false;
    std::vector<Anchor> anchors;
    std::optional<ClockFit> fit;  ///< none: the clock is not known
    bool measured = false;        ///< by anchors or by tags, not only taken as right
    bool drifts = false;          ///< the drift was measured too
    std::string how;
};

/// The stretches of one camera, parted further where its anchors say that the clock was set unseen. A
/// person's word stands before clock shots. `shown_to_several`: the times (whole seconds UTC, as text,
/// sorted) of pictures that more than one camera photographed.
std::vector<ClockNode> clock_nodes(const CameraEvidence& camera, const Zone& workshop,
                                   const std::vector<std::string>& shown_to_several);

}  // namespace stripbook::link
