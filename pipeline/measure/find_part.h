// Where the part lies, roughly: its outline to a few pixels.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "measure/dimension.h"
#include "measure/hue_odds.h"
#include "measure/surroundings.h"

namespace stripbook::measure {

struct RoughPart {
    std::optional<Refusal> refusal;
    std::string reason;
    bool inside_frame = false;                          ///< on the sheet, inside its squares
    std::vector<cv::Point2d> outline_px;                ///< photo pixels, closed, clockwise as seen
    std::vector<std::vector<cv::Point2d>> openings_px;  ///< background seen through the part
    HueOdds hues;                                       ///< of the part against its ground
    cv::Mat1b mask;                                     ///< of the part, openings filled, small pixels
    cv::Mat1b openings;                                 ///< of the openings with their rims, small pixels
};

/// `small`: the picture at a quarter of its size (CV_8UC3).
RoughPart find_part(const cv::Mat3b& small, const Surroundings& around);

}  // namespace stripbook::measure
