#include "bench/measure_naive.h"

#include <algorithm>
#include <opencv2/imgproc.hpp>

#include "number/marker_layout.h"

namespace stripbook::bench {

std::optional<NaiveSize> naive_size(const std::vector<fiducial::Fiducial>& found,
                                    const std::vector<cv::Point2d>& rough_px) {
    for (const auto& f : found) {
        if (f.family != fiducial::Family::tag25h9) {
            continue;
        }
        if (const auto* layout = number::marker_with_identity(f.identity)) {
            const double mm_per_px = layout->fiducial_side / cv::norm(f.corners[1] - f.corners[0]);
            const std::vector<cv::Point2f> outline(rough_px.begin(), rough_px.end());
            const cv::Size2f box = cv::minAreaRect(outline).size;
            return NaiveSize{static_cast<double>(std::max(box.width, box.height)) * mm_per_px,
                             static_cast<double>(std::min(box.width, box.height)) * mm_per_px};
        }
    }
    return std::nullopt;
}

}  // namespace stripbook::bench
