#include "measure/propagation.h"

#include <algorithm>
#include <cmath>
#include <opencv2/core/utility.hpp>

namespace stripbook::measure {

cv::Mat1d sensitivities(const Values& values, const std::vector<double>& inputs,
                        const cv::Mat1d& covariance) {
    const int count = static_cast<int>(inputs.size());
    cv::Mat1d rows(static_cast<int>(values(inputs).size()), count, 0.0);
    const auto fill_column = [&](int p) {
        // Small enough to be straight, large enough for digits.
        const double step = std::max(1e-9, 0.3 * std::sqrt(std::max(0.0, covariance(p, p))));
        std::vector<double> up = inputs;
        std::vector<double> down = inputs;
        up[static_cast<std::size_t>(p)] += step;
        down[static_cast<std::size_t>(p)] -= step;
        const auto high = values(up);
        const auto low = values(down);
        for (int i = 0; i < rows.rows; ++i) {
            const auto k = static_cast<std::size_t>(i);
            if (k < high.size() && k < low.size()) {
                rows(i, p) = (high[k] - low[k]) / (2 * step);
            }
        }
    };
    cv::parallel_for_({0, count}, [&](const cv::Range& some) {
        for (int p = some.start; p < some.end; ++p) {
            fill_column(p);
        }
    });
    return rows;
}

cv::Mat1d propagated(const cv::Mat1d& sensitivities, const cv::Mat1d& covariance) {
    cv::Mat1d result;
    cv::Mat(sensitivities * covariance * sensitivities.t()).copyTo(result);
    return result;
}

}  // namespace stripbook::measure
