#include "measure/round_outline.h"

#include <ceres/ceres.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <optional>

#include "measure/circle_fit.h"
#include "measure/closed_line.h"

namespace stripbook::measure {

namespace {

constexpr double loss_mm = 0.1;

// A round part and the border of its shadow.
struct ShadowedCircle {
    Circle part;
    cv::Point2d shadow;  // from the part's centre to its shadow's
};

// How far a point lies outside a circle and the same circle moved by `shadow`, taken together; short shadows.
struct OffBoth {
    cv::Point2d point;

    template <typename T>
    bool operator()(const T* const circle, const T* const shadow, T* off) const {
        const T x = T(point.x) - circle[0];
        const T y = T(point.y) - circle[1];
        const T away = sqrt(x * x + y * y);
        const T shaded = (x * shadow[0] + y * shadow[1]) / away;
        off[0] = away - circle[2] - (shaded > T(0) ? shaded : T(0));
        return true;
    }
};

double off_both(cv::Point2d point, const ShadowedCircle& both) {
    const double circle[] = {both.part.centre.x, both.part.centre.y, both.part.radius};
    const double shadow[] = {both.shadow.x, both.shadow.y};
    double off = 0;
    OffBoth{point}(circle, shadow, &off);
    return off;
}

// Mean loss that a fit leaves, mm2.
double loss_of(const std::vector<cv::Point2d>& points, const ShadowedCircle& both) {
    double sum = 0;
    for (const auto& p : points) {
        const double off = off_both(p, both) / loss_mm;
        sum += loss_mm * loss_mm * std::log1p(off * off);
    }
    return sum / static_cast<double>(points.size());
}

// Starts from the given one; `with_shadow`: its shadow may change.
ShadowedCircle settled(const std::vector<cv::Point2d>& points, const ShadowedCircle& from, bool with_shadow) {
    double circle[] = {from.part.centre.x, from.part.centre.y, from.part.radius};
    double shadow[] = {from.shadow.x, from.shadow.y};
    ceres::Problem::Options shared;
    ceres::CauchyLoss loss(loss_mm);
    shared.loss_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
    ceres::Problem problem(shared);
    for (const auto& p : points) {
        problem.AddResidualBlock(new ceres::AutoDiffCostFunction<OffBoth, 1, 3, 2>(new OffBoth{p}), &loss,
                                 circle, shadow);
    }
    if (!with_shadow) {
        problem.SetParameterBlockConstant(shadow);
    }
    ceres::Solver::Options options;
    options.linear_solver_type = ceres::DENSE_NORMAL_CHOLESKY;
    options.logging_type = ceres::SILENT;
    ceres::Solver::Summary summary;
    ceres::Solve(options, &problem, &summary);
    return {{{circle[0], circle[1]}, circle[2], 0}, {shadow[0], shadow[1]}};
}

// Around which of two such circles the points come nearest, least squares with Cauchy's loss.
ShadowedCircle shadowed_circle(const std::vector<cv::Point2d>& points, const Circle& start) {
    // Half a turn of shadows: the other half are the same two circles the other way round.
    constexpr int directions = 4;
    constexpr double some_mm = 0.4;
    ShadowedCircle best{start, {}};
    double least = std::numeric_limits<double>::max();
    for (int i = 0; i < directions; ++i) {
        const double turn = CV_PI * i / directions;
        const ShadowedCircle from{start, some_mm * cv::Point2d(std::cos(turn), std::sin(turn))};
        const ShadowedCircle both = settled(points, from, true);
        const double loss = loss_of(points, both);
        if (loss < least) {
            least = loss;
            best = both;
        }
    }
    return best;
}

// The part and its shadow may as well be the shadow and its part. The shadow's border is the more restless.
ShadowedCircle told_apart(const std::vector<cv::Point2d>& points, const ShadowedCircle& both) {
    double squares[2] = {0, 0};
    double count[2] = {0, 0};
    for (const auto& p : points) {
        const std::size_t side = (p - both.part.centre).dot(both.shadow) > 0 ? 1 : 0;
        const double off = std::clamp(off_both(p, both), -loss_mm, loss_mm);
        squares[side] += off * off;
        count[side] += 1;
    }
    if (squares[0] * count[1] <= squares[1] * count[0]) {
        return both;
    }
    ShadowedCircle other = both;
    other.part.centre += both.shadow;
    other.shadow = -both.shadow;
    return other;
}

// Nothing where one circle does nearly as well.
std::optional<ShadowedCircle> clear_shadow(const std::vector<cv::Point2d>& outline_mm, const Circle& circle) {
    constexpr double restless_mm = 0.08;  // less is no shadow worth a thought
    constexpr double left_of_loss = 0.3;  // the next best on 130 made shots: 0.38
    constexpr double least_shadow_mm = 0.3;
    constexpr std::size_t enough_points = 400;  // more tell nothing new
    const auto points = thinned(outline_mm, enough_points);
    const ShadowedCircle alone = settled(points, {circle, {}}, false);
    const double loss = loss_of(points, alone);
    if (loss < loss_mm * loss_mm * std::log1p(std::pow(restless_mm / loss_mm, 2))) {
        return std::nullopt;
    }
    const ShadowedCircle both = shadowed_circle(points, circle);
    if (loss_of(points, both) > left_of_loss * loss || cv::norm(both.shadow) < least_shadow_mm) {
        return std::nullopt;
    }
    return told_apart(points, both);
}

std::vector<cv::Point2d> onto(const Circle& circle, const std::vector<cv::Point2d>& outline_mm) {
    std::vector<cv::Point2d> rounded;
    rounded.reserve(outline_mm.size());
    for (const auto& p : outline_mm) {
        const cv::Point2d off = p - circle.centre;
        rounded.push_back(circle.centre + off * (circle.radius / cv::norm(off)));
    }
    return rounded;
}

}  // namespace

RoundOutline circle_if_round(const std::vector<cv::Point2d>& outline_mm) {
    const auto start = geometric_circle(outline_mm);
    constexpr double off_circle_mm = 0.3;
    const auto circle = start ? robust_circle(outline_mm, *start, off_circle_mm) : std::nullopt;
    if (!circle) {
        return {outline_mm, {}, 0};
    }
    double on = 0;
    for (const auto& p : outline_mm) {
        on += std::abs(cv::norm(p - circle->centre) - circle->radius) < off_circle_mm ? 1 : 0;
    }
    constexpr double nearly_all = 0.8;
    if (on < nearly_all * static_cast<double>(outline_mm.size())) {
        return {outline_mm, {}, 0};
    }
    const auto with_shadow = clear_shadow(outline_mm, *circle);
    const ShadowedCircle both = with_shadow.value_or(ShadowedCircle{*circle, {}});
    return {onto(both.part, outline_mm), both.part, cv::norm(both.shadow)};
}

}  // namespace stripbook::measure
