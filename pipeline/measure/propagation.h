// The law of propagation of uncertainty for correlated inputs (JCGM 100:2008, 5.2.2 and H.2).
#pragma once

#include <functional>
#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

/// Values, always as many, that depend on inputs. Called from several threads at once.
using Values = std::function<std::vector<double>(const std::vector<double>& inputs)>;

/// How each value (rows) changes with each input (columns): central differences over 0.3 of the input's own
/// standard uncertainty, at least 1e-9. `covariance` is that of the inputs, square.
cv::Mat1d sensitivities(const Values& values, const std::vector<double>& inputs, const cv::Mat1d& covariance);

/// The covariance of the values: J C J'.
cv::Mat1d propagated(const cv::Mat1d& sensitivities, const cv::Mat1d& covariance);

}  // namespace stripbook::measure
