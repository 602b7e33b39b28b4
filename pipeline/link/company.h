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

/// The runs of other cameras while a day lasted. How often a run without a tag is of a part that another
/// camera is at is learned from the day's runs with a tag: how many of those that another camera's run
/// overlaps are of the same part. How alike two cameras' photos then look is learned from the days of all
/// cameras at that time. `day`: its place in `days`; `verdicts`: on each day alone.
Company company_of(const CameraDays& days, std::size_t day, const std::vector<std::vector<Verdict>>& verdicts,
                   const std::vector<KnownRun>& runs);

}  // namespace stripbook::link
