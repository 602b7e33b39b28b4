#include "measure/circle_fit.h"

#include <cmath>

namespace stripbook::measure {

namespace {

constexpr std::size_t fewest = 3;

double rms_of(const std::vector<cv::Point2d>& points, const Circle& circle) {
    double sum = 0;
    for (const auto& p : points) {
        const double d = cv::norm(p - circle.centre) - circle.radius;
        sum += d * d;
    }
    return std::sqrt(sum / static_cast<double>(points.size()));
}

// One weighted Gauss-Newton step for centre and radius; nothing when the normal equations are singular.
std::optional<cv::Vec3d> step_of(const std::vector<cv::Point2d>& points, const Circle& circle,
                                 const std::vector<double>& weights) {
    cv::Matx33d normal = cv::Matx33d::zeros();
    cv::Vec3d right;
    for (std::size_t i = 0; i < points.size(); ++i) {
        const cv::Point2d off = points[i] - circle.centre;
        const double distance = cv::norm(off);
        if (distance < 1e-12) {
            continue;
        }
        const cv::Vec3d row(-off.x / distance, -off.y / distance, -1);
        normal += row * row.t() * weights[i];
        right -= row * (distance - circle.radius) * weights[i];
    }
    bool invertible = false;
    const cv::Matx33d inverse = normal.inv(cv::DECOMP_CHOLESKY, &invertible);
    return invertible ? std::optional(inverse * right) : std::nullopt;
}

Circle moved(const Circle& circle, const cv::Vec3d& step) {
    return {{circle.centre.x + step[0], circle.centre.y + step[1]}, circle.radius + step[2], 0};
}

}  // namespace

double furthest_apart(const Circle& a, const Circle& b) {
    return std::abs(a.radius - b.radius) + cv::norm(a.centre - b.centre);
}

std::optional<Circle> algebraic_circle(const std::vector<cv::Point2d>& points) {
    if (points.size() < fewest) {
        return std::nullopt;
    }
    cv::Mat1d rows(static_cast<int>(points.size()), 4);
    for (int i = 0; i < rows.rows; ++i) {
        const cv::Point2d p = points[static_cast<std::size_t>(i)];
        rows(i, 0) = p.dot(p);
        rows(i, 1) = p.x;
        rows(i, 2) = p.y;
        rows(i, 3) = 1;
    }
    cv::Mat1d u;
    cv::SVD::solveZ(rows, u);
    if (std::abs(u(0)) < 1e-12) {
        return std::nullopt;
    }
    Circle circle;
    circle.centre = {-u(1) / (2 * u(0)), -u(2) / (2 * u(0))};
    const double square = circle.centre.dot(circle.centre) - u(3) / u(0);
    if (!(square > 0)) {
        return std::nullopt;
    }
    circle.radius = std::sqrt(square);
    circle.rms = rms_of(points, circle);
    return circle;
}

std::optional<Circle> geometric_circle(const std::vector<cv::Point2d>& points) {
    auto circle = algebraic_circle(points);
    if (!circle) {
        return std::nullopt;
    }
    const std::vector<double> even(points.size(), 1);
    constexpr int most_rounds = 200;
    for (int round = 0; round < most_rounds; ++round) {
        auto step = step_of(points, *circle, even);
        if (!step) {
            return std::nullopt;
        }
        Circle next = moved(*circle, *step);
        next.rms = rms_of(points, next);
        for (int halved = 0; next.rms > circle->rms && halved < 40; ++halved) {
            *step *= 0.5;
            next = moved(*circle, *step);
            next.rms = rms_of(points, next);
        }
        const bool settled = cv::norm(*step) < 1e-12 * (1 + circle->radius);
        *circle = next;
        if (settled) {
            break;
        }
    }
    return circle;
}

std::optional<Circle> robust_circle(const std::vector<cv::Point2d>& points, const Circle& start,
                                    double scale) {
    if (points.size() < fewest) {
        return std::nullopt;
    }
    Circle circle = start;
    std::vector<double> weights(points.size());
    constexpr int rounds = 25;
    for (int round = 0; round < rounds; ++round) {
        double sum = 0;
        double squares = 0;
        for (std::size_t i = 0; i < points.size(); ++i) {
            const double d = cv::norm(points[i] - circle.centre) - circle.radius;
            const double q = 1 + d * d / (scale * scale);
            weights[i] = 1 / (q * q);
            sum += weights[i];
            squares += weights[i] * d * d;
        }
        const auto step = step_of(points, circle, weights);
        if (!step || !(sum > 0)) {
            return std::nullopt;
        }
        circle = moved(circle, *step);
        circle.rms = std::sqrt(squares / sum);
        if (cv::norm(*step) < 1e-9 * (1 + circle.radius)) {
            break;
        }
    }
    return circle.radius > 0 ? std::optional(circle) : std::nullopt;
}

}  // namespace stripbook::measure
