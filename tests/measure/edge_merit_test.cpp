// What speaks for a sample of a band being the part's edge.
#include "measure/edge_merit.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "measure/best_path.h"

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
