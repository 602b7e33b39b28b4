// What speaks for a sample of a band being the part's edge.
#include "measure/edge_merit.h"
#include "measure/faint_edge.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "measure/best_path.h"
#include "measure/second_reading.h"

using namespace stripbook::measure;

namespace {

constexpr int side = 200;
const cv::Rect part(50, 50, 100, 100);
const cv::Rect opening(58, 75, 14, 50);  // near the part's left side

// A dark part on a grey bench, a hole near its side through which the bench is brightly lit: its edge is the
// strongest of all.
cv::Mat3b picture() {
    cv::Mat3b p(side, side, cv::Vec3b(140, 140, 140));
    p(part) = cv::Vec3b(134, 134, 134);
    p(opening) = cv::Vec3b(240, 240, 240);
    cv::GaussianBlur(p, p, {}, 0.8);
    return p;
}

EdgeBand band() {
    const cv::Point2d a(part.tl());
    const cv::Point2d b(part.br());
    return band_around(picture(), {a, {b.x, a.y}, b, {a.x, b.y}}, 40, 10, nullptr);
}

float darker_is_part(const cv::Vec3f& levels) {
    return levels[0] < 137 ? 1.F : -2.F;
}

// How far inside the part's outline the best path comes, px.
double deepest(const EdgeSigns& signs, const EdgeBand& around) {
    const auto path = best_path(edge_merits(signs, 1));
    return (around.inner - *std::min_element(path.begin(), path.end())) * across_px;
}

}  // namespace

TEST_CASE("What is seen through a part is no edge and no ground of its outline", "[measure]") {
    const EdgeBand around = band();
    const auto signs = edge_signs(around, darker_is_part, [](cv::Point2d px) {
        constexpr int rim = 4;
        return cv::Rect(opening.tl() - cv::Point(rim, rim), opening.br() + cv::Point(rim, rim)).contains(px);
    });
    CHECK(deepest(signs, around) < 6);
    // Else the outline runs along the hole: that is what the opening is named for.
    const auto unnamed = edge_signs(around, darker_is_part, [](cv::Point2d) { return false; });
    CHECK(deepest(unnamed, around) > 15);
}

TEST_CASE("Hues of the ground on a stain cut a piece off the part only without a limit to what they count",
          "[measure]") {
    // A dark part on a bright bench, near its side a stain with the ground's hue.
    const cv::Rect stain(part.x + 4, part.y + 30, 26, 40);
    cv::Mat3b p(side, side, cv::Vec3b(200, 200, 200));
    p(part) = cv::Vec3b(60, 60, 60);
    p(stain) = cv::Vec3b(64, 64, 64);
    cv::GaussianBlur(p, p, {}, 0.8);
    const auto hue = [](const cv::Vec3f& levels) { return levels[0] > 63.5F ? -2.F : 0.5F; };
    const cv::Point2d a(part.tl());
    const cv::Point2d b(part.br());
    const EdgeBand around = band_around(p, {a, {b.x, a.y}, b, {a.x, b.y}}, 40, 10, nullptr);
    const auto signs = edge_signs(around, hue, [](cv::Point2d) { return false; });
    const auto deepest_with = [&](const EdgeWeights& weights) {
        const auto path = best_path(edge_merits(signs, 1, weights));
        return (around.inner - *std::min_element(path.begin(), path.end())) * across_px;
    };
    EdgeWeights limited;
    limited.most_against = second_weights.most_against;
    CHECK(deepest_with({}) > 25);
    CHECK(deepest_with(limited) < 6);
}

TEST_CASE("The second reading's weights keep an outline out of a shadow that the usual ones take in",
          "[measure]") {
    // A part with its own shadow all around it, whose hue is a little more likely the ground's.
    constexpr int shadow_px = 12;
    const cv::Rect dark(part.tl() - cv::Point(shadow_px, shadow_px),
                        part.br() + cv::Point(shadow_px, shadow_px));
    cv::Mat3b p(side, side, cv::Vec3b(200, 200, 200));
    p(dark) = cv::Vec3b(120, 120, 120);
    p(part) = cv::Vec3b(60, 60, 60);
    cv::GaussianBlur(p, p, {}, 0.8);
    const cv::Point2d a(dark.tl());
    const cv::Point2d b(dark.br());
    const std::vector<cv::Point2d> rough{a, {b.x, a.y}, b, {a.x, b.y}};
    const auto hue = [](const cv::Vec3f& levels) { return levels[0] < 90 ? 0.F : -0.52F; };
    const auto none = [](cv::Point2d) { return false; };
    const auto middle_of_path = [&](const RimOfFoot& rim_of_foot, const EdgeWeights& weights) {
        const EdgeBand around = band_around(p, rough, 30, 10, rim_of_foot);
        auto path = best_path(edge_merits(edge_signs(around, hue, none), 1, weights));
        std::nth_element(path.begin(), path.begin() + static_cast<std::ptrdiff_t>(path.size() / 2),
                         path.end());
        return (path[path.size() / 2] - around.inner) * across_px;
    };
    CHECK(middle_of_path(nullptr, {}) == Approx(0).margin(1));
    CHECK(middle_of_path(nullptr, second_weights) == Approx(-shadow_px).margin(1));
    // Where walls of 8 px show, too: no hue speaks there with the usual weights.
    const cv::Point2d middle(side / 2.0, side / 2.0);
    const RimOfFoot walls = [&](cv::Point2d foot_px) {
        constexpr double wall_px = 8;
        const cv::Point2d off = foot_px - middle;
        return foot_px - off / cv::norm(off) * wall_px;
    };
    CHECK(middle_of_path(walls, {}) > -2);
    CHECK(middle_of_path(walls, second_weights) < -shadow_px + 2);
}

TEST_CASE("A rim counts for the second reading only where the foot below it shows", "[measure]") {
    // A wall's foot at sample 10, its rim an edge too. At sample 30 nothing, but its rim would be the foot.
    constexpr float strong = 25;
    EdgeSigns signs;
    signs.here.emplace_back(60, 0.F);
    signs.rim.emplace_back(60, 0.F);
    signs.inside.emplace_back(60, 0.F);
    signs.here[0][10] = strong;
    signs.rim[0][10] = strong;
    signs.rim[0][30] = strong;
    CHECK(edge_merits(signs, 1)[0][30] == Approx(1).margin(0.05));
    const auto second = edge_merits(signs, 1, second_weights);
    CHECK(second[0][30] == 0);
    CHECK(second[0][10] == Approx(2).margin(0.05));
}

TEST_CASE("A stretch along hardly any edge is told where the rest is clear, and left out", "[measure]") {
    const auto outlines = [](uchar part_grey) {
        cv::Mat3b p(side, side, cv::Vec3b(200, 200, 200));
        p(part) = cv::Vec3b::all(part_grey);
        cv::GaussianBlur(p, p, {}, 0.8);
        const cv::Point2d a(part.tl());
        const cv::Point2d b(part.br());
        const EdgeBand around = band_around(p, {a, {b.x, a.y}, b, {a.x, b.y}}, 20, 20, nullptr);
        const auto along = [&](const std::vector<int>& path) {
            const auto contrasts = edge_contrasts(around, path);
            OutlineEdge edge;
            edge.usual_contrast = contrasts.usual;
            edge.points.resize(path.size());
            for (std::size_t i = 0; i < path.size(); ++i) {
                edge.points[i].px = around.place(i, path[i]);
                edge.points[i].contrast_share = contrasts.shares[i];
            }
            return edge;
        };
        std::vector<int> path(around.profiles.size(), around.inner);
        const auto right = along(path);
        // An eighth of it runs outside, where nothing is.
        for (std::size_t i = 0; i < path.size() / 8; ++i) {
            path[i] += 24;
        }
        return std::pair(right, along(path));
    };
    const auto [right, astray] = outlines(60);
    CHECK(faint_share(right) == 0);
    CHECK(without_faint(right).size() == right.points.size());
    CHECK(faint_share(astray) == Approx(0.125).margin(0.06));
    // What hangs on that eighth goes with it, but for its ends.
    const auto outside = [](const std::vector<EdgePoint>& points) {
        return std::count_if(points.begin(), points.end(), [](const EdgePoint& point) {
            const cv::Point2d off = point.px - cv::Point2d(part.tl() + part.br()) / 2;
            return std::max(std::abs(off.x), std::abs(off.y)) > part.width / 2.0 + 6;
        });
    };
    CHECK(outside(right.points) == 0);
    CHECK(outside(without_faint(astray)) < outside(astray.points) / 4);
    // Hardly differs anywhere: that says nothing.
    const OutlineEdge pale = outlines(194).second;
    CHECK(faint_share(pale) == 0);
    CHECK(without_faint(pale).size() == pale.points.size());
}

TEST_CASE("At a wall's foot the rim tells, and one wall further in nothing does", "[measure]") {
    constexpr int wall_px = 10;
    cv::Mat3b p(side, side, cv::Vec3b(200, 200, 200));
    p(part) = cv::Vec3b::all(120);
    p(cv::Rect(part.x + wall_px, part.y, part.width - wall_px, part.height)) = cv::Vec3b::all(60);
    cv::GaussianBlur(p, p, {}, 0.8);
    const cv::Point2d a(part.tl());
    const cv::Point2d b(part.br());
    const EdgeBand around = band_around(p, {a, {b.x, a.y}, b, {a.x, b.y}}, 20, 20,
                                        [](cv::Point2d foot) { return foot + cv::Point2d(wall_px, 0); });
    const auto shares_on_left = [&](int sample) {
        const auto contrasts = edge_contrasts(around, std::vector<int>(around.profiles.size(), sample));
        std::vector<double> shares;
        for (std::size_t i = 0; i < around.middle.size(); ++i) {
            const bool left = around.outward[i].x < -0.99 && std::abs(around.middle[i].y - side / 2.0) < 40;
            if (left) {
                shares.push_back(contrasts.at_rim[i]);
            } else if (around.outward[i].x > 0.5) {
                REQUIRE(contrasts.at_rim[i] == 0);
            }
        }
        REQUIRE(shares.size() > 20);
        return shares;
    };
    for (const double share : shares_on_left(around.inner)) {
        REQUIRE(share > 0.4);  // 60 of 140 grey levels
    }
    for (const double share : shares_on_left(around.inner - static_cast<int>(wall_px / across_px))) {
        REQUIRE(share < 0.05);
    }
}

TEST_CASE("Samples of a band lie where it says", "[measure]") {
    const EdgeBand around = band();
    REQUIRE(around.inner == 80);
    for (const std::size_t i : {std::size_t{20}, std::size_t{120}}) {
        CHECK(cv::norm(around.place(i, around.inner) - around.middle[i]) < 1e-9);
        const cv::Point2d out = around.place(i, around.inner + 10);
        CHECK((out - around.middle[i]).dot(around.outward[i]) == Approx(5));
        CHECK_FALSE(cv::Rect2d(part).contains(out));
    }
}
