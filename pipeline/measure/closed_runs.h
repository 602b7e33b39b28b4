// Runs of marked points around a closed line.
#pragma once

#include <cstddef>
#include <vector>

namespace stripbook::measure {

/// Of points from `first`, counted on around the line: as an index, modulo the number of points.
struct Run {
    std::size_t first = 0;
    std::size_t count = 0;
};

/// Runs with fewer than `least_between` (at least 1) unmarked points between them are one. All points where
/// there is no such gap at all.
std::vector<Run> runs_around(const std::vector<bool>& marked, std::size_t least_between);

}  // namespace stripbook::measure
