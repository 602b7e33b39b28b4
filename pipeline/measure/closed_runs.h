// Runs of marked points around a closed line.
#pragma once

#include <cstddef>
#include <opencv2/core.hpp>
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

/// How much of a run (not empty) is marked, bridged gaps being not.
double marked_share(const Run& run, const std::vector<bool>& marked);

/// Where the closed line would run, one place for each point of `run`, if it went on as it comes to the run
/// and as it leaves it (the cubic with the directions there, from `tangent` points on each side). Empty where
/// it turns by more than 20 degrees at an end, or the run bridges more than `longest`.
std::vector<cv::Point2d> going_on(const std::vector<cv::Point2d>& closed, const Run& run, std::size_t tangent,
                                  double longest);

}  // namespace stripbook::measure
