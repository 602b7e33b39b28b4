// Doubtful runs of an outline: bridged where it goes on as it came, counted elsewhere.
#include "measure/doubtful_runs.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace stripbook::measure;

namespace {

struct Outline {
    std::vector<cv::Point2d> mm;
    std::vector<bool> doubtful;
};

// 80 x 60 mm, points 0.25 mm apart, from the upper left corner.
Outline plate() {
    Outline outline;
    const std::vector<cv::Point2d> corners{{0, 0}, {80, 0}, {80, 60}, {0, 60}};
    for (std::size_t i = 0; i < corners.size(); ++i) {
        const cv::Point2d side = corners[(i + 1) % corners.size()] - corners[i];
        const int n = static_cast<int>(cv::norm(side) * 4);
        for (int k = 0; k < n; ++k) {
            outline.mm.push_back(corners[i] + side * (k / double(n)));
        }
    }
    outline.doubtful.assign(outline.mm.size(), false);
    return outline;
}

// Put out of place by so much, and in doubt.
void bulge(Outline& outline, std::size_t first, std::size_t count, cv::Point2d by) {
    for (std::size_t k = 0; k < count; ++k) {
        const std::size_t i = (first + k) % outline.mm.size();
        outline.mm[i] += by;
        outline.doubtful[i] = true;
    }
}

}  // namespace

TEST_CASE("A short doubtful bulge on a straight side is bridged", "[measure]") {
    Outline outline = plate();
    bulge(outline, 100, 30, {0, -0.8});
    outline.doubtful[115] = false;  // a sure point or two within do not part it
    const auto bridged = without_doubtful_runs(outline.mm, outline.doubtful);
    REQUIRE(bridged.closed_mm.size() == outline.mm.size());
    CHECK(bridged.doubtful_share == 0);
    for (std::size_t i = 0; i < 320; ++i) {
        CHECK(std::abs(bridged.closed_mm[i].y) < 0.05);
    }
}

TEST_CASE("A bridge follows a round outline, across the first point too", "[measure]") {
    Outline outline;
    constexpr double radius = 40;
    for (int i = 0; i < 1000; ++i) {
        const double turn = 2 * CV_PI * i / 1000;
        outline.mm.emplace_back(radius * std::cos(turn), radius * std::sin(turn));
    }
    outline.doubtful.assign(outline.mm.size(), false);
    bulge(outline, 985, 30, {0.6, 0});  // 7.5 mm
    const auto bridged = without_doubtful_runs(outline.mm, outline.doubtful);
    CHECK(bridged.doubtful_share == 0);
    for (const auto& p : bridged.closed_mm) {
        CHECK(cv::norm(p) == Approx(radius).margin(0.1));  // the tangents are chords of 3 mm
    }
}

TEST_CASE("Doubt at a corner, along much of a side or far from it is counted, not bridged", "[measure]") {
    const auto share_of = [](std::size_t first, std::size_t count, cv::Point2d by) {
        Outline outline = plate();
        bulge(outline, first, count, by);
        const auto bridged = without_doubtful_runs(outline.mm, outline.doubtful);
        CHECK(bridged.closed_mm == outline.mm);
        return bridged.doubtful_share * static_cast<double>(outline.mm.size());
    };
    CHECK(share_of(310, 20, {0, 0}) == Approx(20));     // the upper right corner
    CHECK(share_of(100, 60, {0, -0.3}) == Approx(60));  // 15 mm
    CHECK(share_of(100, 20, {0, -2}) == Approx(20));    // a lug, perhaps
    Outline all = plate();
    all.doubtful.assign(all.mm.size(), true);
    CHECK(without_doubtful_runs(all.mm, all.doubtful).doubtful_share == Approx(1));
    CHECK(without_doubtful_runs({}, {}).doubtful_share == 0);
}
