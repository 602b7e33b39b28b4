// Several cameras on one part: what the other cameras were at, and how often two cameras that work at the
// same time work on the same part.
#pragma once

#include <vector>

#include "link/camera_days.h"

namespace stripbook::link {

/// A run of one camera as its own day tells it.
struct KnownRun {
    Elsewhere what;
    book::CameraId camera;
};

/// Runs whose part is nearly certain and whose tag the camera itself showed, by time.
std::vector<KnownRun> known_runs(const CameraDays& days, const std::vector<std::vector<Verdict>>& verdicts);

/// The runs of other cameras while this day lasted.
std::vector<Elsewhere> company_of(const CameraDay& day, book::CameraId camera,
                                  const std::vector<KnownRun>& runs);

/// The chance that a run of this day without a tag is of a part that another camera is at, learned from its
/// runs with a tag: how many of those that another camera's run overlaps are of the same part.
double sharing_of(const CameraDay& day, book::CameraId camera, const std::vector<KnownRun>& runs);

}  // namespace stripbook::link
