// Several cameras on one part: what the other cameras were at, and how often two cameras that work at the
// same time work on the same part.
#pragma once

#include <vector>

#include "link/camera_days.h"

namespace stripbook::link {

/// For each day, what the other cameras were at while it lasted: their runs whose part is nearly certain and
/// whose tag they themselves showed. How often a run without a tag is of a part that another camera is at is
/// learned from the day's runs with a tag: how many of those that another camera's run overlaps are of the
/// same part. How alike two cameras' photos then look is learned from all days that go on at one time.
/// `verdicts`: on each day alone. The work grows with the number of photos.
std::vector<Company> companies_of(const CameraDays& days, const std::vector<std::vector<Verdict>>& verdicts);

}  // namespace stripbook::link
