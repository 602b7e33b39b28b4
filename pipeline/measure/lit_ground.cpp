#include "measure/lit_ground.h"

#include <ceres/ceres.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "measure/lit_border.h"

namespace stripbook::measure {

namespace {

// A place on the border of the lit ground, and how it is seen.
struct OnBorder {
    cv::Point2d mm;
    cv::Point2d camera_foot_mm;
    double seen_larger = 1;

    // How far it lies outside of what is lit: outside the farthest of the three circles.
    template <typename T>
    bool operator()(const T* const hole, const T* const shadow, T* off) const {
        const auto outside = [&](const T& x, const T& y, const T& radius) {
            const T dx = T(mm.x) - x;
            const T dy = T(mm.y) - y;
            return sqrt(dx * dx + dy * dy) - radius;
        };
        const T k(seen_larger);
        const T foot = outside(hole[0], hole[1], hole[2]);
        const T shaded = outside(hole[0] + shadow[0], hole[1] + shadow[1], hole[2]);
        const T hidden = outside(T(camera_foot_mm.x) + k * (hole[0] - camera_foot_mm.x),
                                 T(camera_foot_mm.y) + k * (hole[1] - camera_foot_mm.y), k * hole[2]);
        off[0] = foot;
        if (shaded > off[0]) {
            off[0] = shaded;
        }
        if (hidden > off[0]) {
            off[0] = hidden;
        }
        return true;
    }
};

constexpr double loss_mm = 0.1;

// What the fit may change: a hole's centre and radius.
using Bore = std::array<double, 3>;

// Of the border's places from the three circles, each counted up to loss_mm.
double rms_of(const std::vector<OnBorder>& border, const Bore& bore, const double* shadow) {
    double squares = 0;
    for (const auto& place : border) {
        double off = 0;
        place(bore.data(), shadow, &off);
        squares += std::min(off * off, loss_mm * loss_mm);
    }
    return std::sqrt(squares / static_cast<double>(border.size()));
}

// The holes first, with the shadow as it is, then both.
void settle(const std::vector<std::vector<OnBorder>>& borders, std::vector<Bore>& bores, double* shadow) {
    ceres::Problem::Options shared;
    ceres::CauchyLoss loss(loss_mm);
    shared.loss_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
    ceres::Problem problem(shared);
    for (std::size_t i = 0; i < bores.size(); ++i) {
        for (const auto& place : borders[i]) {
            problem.AddResidualBlock(new ceres::AutoDiffCostFunction<OnBorder, 1, 3, 2>(new OnBorder(place)),
                                     &loss, bores[i].data(), shadow);
        }
    }
    if (problem.NumResidualBlocks() == 0) {
        return;
    }
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_NORMAL_CHOLESKY;
    options.logging_type = ceres::SILENT;
    ceres::Solver::Summary summary;
    problem.SetParameterBlockConstant(shadow);
    ceres::Solve(options, &problem, &summary);
    problem.SetParameterBlockVariable(shadow);
    ceres::Solve(options, &problem, &summary);
}

}  // namespace

LitGround lit_ground(const CastShadow& start, const ViewLight& bench, const std::vector<Circle>& holes_mm,
                     const RimsAbove& rims) {
    constexpr double more_mm = 1;
    std::vector<std::vector<OnBorder>> borders;
    std::vector<Bore> bores;
    double shadow[] = {start.mm.x, start.mm.y};
    for (const auto& hole : holes_mm) {
        const double farthest_mm = rims.seen_larger() * hole.radius + cv::norm(start.mm) + more_mm;
        std::vector<OnBorder> border;
        for (const auto& mm : lit_border(bench, hole, start, farthest_mm)) {
            border.push_back({mm, rims.camera_foot_mm, rims.seen_larger()});
        }
        borders.push_back(std::move(border));
        bores.push_back({hole.centre.x, hole.centre.y, hole.radius});
    }
    settle(borders, bores, shadow);
    LitGround ground{start, std::vector<std::optional<Circle>>(holes_mm.size())};
    ground.shadow.mm = {shadow[0], shadow[1]};
    for (std::size_t i = 0; i < bores.size(); ++i) {
        if (!borders[i].empty()) {
            const auto& [x, y, radius] = bores[i];
            ground.bores_mm[i] = Circle{{x, y}, radius, rms_of(borders[i], bores[i], shadow)};
        }
    }
    return ground;
}

}  // namespace stripbook::measure
