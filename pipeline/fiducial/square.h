// The four corners of a dark square: from a blob's outline, then from its edges between the pixels.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>

#include "fiducial/dark_blobs.h"

namespace stripbook::fiducial {

/// Corners clockwise as seen, frame of the picture they were found in; which one comes first means nothing.
using Corners = std::array<cv::Point2d, 4>;

double mean_side(const Corners& corners);

/// The four-sided figure that a blob's outline fills; nothing when it fills none well.
std::optional<Corners> corners_of_blob(const DarkBlob& blob);

/// Moves the sides onto the edge between dark inside and bright outside: along each side short profiles
/// across it are taken, at most `most_profiles`, `reach_px` to either hand, the edge lies where the grey
/// level rises most (centroid of the rise, large ones counting more), and a line is fitted to those that
/// agree. Nothing when a side has no edge to speak of or the figure falls apart.
std::optional<Corners> onto_edges(const cv::Mat& grey, const Corners& corners, double reach_px,
                                  int most_profiles);

}  // namespace stripbook::fiducial
