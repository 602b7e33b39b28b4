// Sideways steps of a traced outline along which nothing is an edge.
#pragma once

#include <cstddef>
#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

/// From one line of the outline to another that runs on the same way beside it.
struct FalseStep {
    std::size_t before = 0;  ///< the last point of the line before the step
    std::size_t behind = 0;  ///< the first point of the line behind it
    cv::Point2d outward;     ///< unit vector across both lines
    double off_px = 0;       ///< how much further out the line behind lies; negative: further in
    /// How strong an edge the picture shows where the line before goes on beyond the step, over the edge that
    /// the outline follows there.
    double before_goes_on = 1;
    double behind_goes_on = 1;  ///< the same of the line behind, carried on to before the step
};

/// Where the outline steps by 2.5 px or more and the colours on both sides of the step are alike. A step of
/// the part has part on one side and ground on the other. Here one of the two lines is not the part's edge
/// but the border of its shadow, or of a stain; which of them is not said.
/// `closed_px`: clockwise as seen, about 1.5 px apart. `usual`: how much the outline's two sides differ as a
/// rule, in the picture's grey levels.
std::vector<FalseStep> false_steps(const cv::Mat3b& picture, const std::vector<cv::Point2d>& closed_px,
                                   double usual);

/// Which of the lines that a false step joins are held to be the part's edge.
enum class Lines { inner, outer };

/// The outline with the other ones moved onto them, each as far as it runs on straight. A line that goes on
/// along hardly any edge beside the one that the outline follows is no other reading: nothing is moved onto
/// it.
std::vector<cv::Point2d> moved_onto(Lines right, const std::vector<cv::Point2d>& closed_px,
                                    const std::vector<FalseStep>& steps);

}  // namespace stripbook::measure
