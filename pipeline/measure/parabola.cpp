#include "measure/parabola.h"

namespace stripbook::measure {

std::optional<Parabola> parabola_through(const std::vector<cv::Point2d>& points) {
    constexpr std::size_t fewest = 5;
    constexpr std::size_t unknowns = 3;
    cv::Matx33d normal = cv::Matx33d::zeros();
    cv::Vec3d right;
    for (const auto& p : points) {
        const cv::Vec3d row(1, p.x, p.x * p.x);
        normal += row * row.t();
        right += row * p.y;
    }
    bool invertible = false;
    const cv::Matx33d inverse = normal.inv(cv::DECOMP_CHOLESKY, &invertible);
    if (!invertible || points.size() < fewest) {
        return std::nullopt;
    }
    Parabola parabola{inverse * right, 0};
    double sum = 0;
    for (const auto& p : points) {
        const double off = parabola.at(p.x) - p.y;
        sum += off * off;
    }
    parabola.variance = sum / static_cast<double>(points.size() - unknowns);
    return parabola;
}

}  // namespace stripbook::measure
