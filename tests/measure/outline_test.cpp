// The rough part and the outline near it. Truth: drawn parts.
#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "measure/find_part.h"
#include "measure/outline_edge.h"
#include "measure/second_reading.h"
#include "plane_above.h"

using namespace stripbook::measure;

namespace {

const cv::Vec3b paper(215, 215, 215);
const cv::Vec3b iron(60, 60, 64);
const cv::Point2d tip(900, 640);  // of the lever, photo px
constexpr double land_px = 27;    // of iron around the hole

// A lever of dark iron in the frame of the bench sheet, a small hole near its narrow end.
cv::Mat3b lever() {
    cv::Mat3b picture(1200, 1600, paper);
    constexpr double tip_px = 36;
    const cv::Point2d boss(620, 500);
    const std::vector<cv::Point> body{{588, 565}, {652, 435}, {918, 609}, {882, 671}};
    cv::fillConvexPoly(picture, body, cv::Scalar(iron), cv::LINE_AA);
    cv::circle(picture, boss, 72, cv::Scalar(iron), cv::FILLED, cv::LINE_AA);
    cv::circle(picture, tip, static_cast<int>(tip_px), cv::Scalar(iron), cv::FILLED, cv::LINE_AA);
    cv::circle(picture, tip, static_cast<int>(tip_px - land_px), cv::Scalar(paper), cv::FILLED, cv::LINE_AA);
    cv::GaussianBlur(picture, picture, {}, 0.8);
    cv::Mat noise(picture.size(), CV_16SC3);
    cv::RNG dice(3);
    dice.fill(noise, cv::RNG::NORMAL, 0, 2);
    cv::add(picture, noise, picture, cv::noArray(), CV_8U);
    return picture;
}

RoughPart rough_part(const cv::Mat3b& picture) {
    const Surroundings around = surroundings_of(picture.size(), plane_above(), {});
    cv::Mat3b small;
    cv::resize(picture, small, around.sheet.size(), 0, 0, cv::INTER_AREA);
    RoughPart part = find_part(small, around);
    INFO(part.reason);
    REQUIRE_FALSE(part.refusal);
    return part;
}

OutlineEdge outline_of(const cv::Mat3b& picture, const RoughPart& rough) {
    return OutlineSearch(picture, rough, {}, {}, nullptr).edge();
}

double farthest_from(cv::Point2d px, const OutlineEdge& edge) {
    double most = 0;
    for (const auto& point : edge.points) {
        most = std::max(most, cv::norm(point.px - px));
    }
    return most;
}

}  // namespace

TEST_CASE("A small hole near a part's end is an opening, and the outline goes around the end", "[measure]") {
    const cv::Mat3b picture = lever();
    const RoughPart rough = rough_part(picture);
    REQUIRE(rough.openings_px.size() == 1);
    CHECK(is_set_at(rough.openings, tip));
    const OutlineEdge edge = outline_of(picture, rough);
    CHECK(edge.lost_share < 0.1);
    const cv::Point2d boss_end =
        cv::Point2d(620, 500) - cv::Point2d(280, 140) / cv::norm(cv::Point2d(280, 140)) * 72;
    CHECK(farthest_from(boss_end, edge) == Approx(cv::norm(tip - boss_end) + 36).margin(1.5));
}

TEST_CASE("An outline that leaves out an end of the rough part says how much", "[measure]") {
    const cv::Mat3b picture = lever();
    RoughPart rough = rough_part(picture);
    // A band along one side, as a shadow is.
    RoughPart with_band = rough;
    cv::Mat1b moved(rough.mask.size(), uchar{0});
    constexpr int band = 3;
    rough.mask(cv::Rect(0, band, rough.mask.cols, rough.mask.rows - band))
        .copyTo(moved(cv::Rect(0, 0, rough.mask.cols, rough.mask.rows - band)));
    with_band.mask |= moved;
    CHECK(outline_of(picture, with_band).lost_share < 0.2);
    // A piece as thick as the lever's end.
    cv::circle(rough.mask, small_from_photo(tip + cv::Point2d(90, 45)), 9, cv::Scalar(255), cv::FILLED);
    CHECK(outline_of(picture, rough).lost_share > 0.33);
}

TEST_CASE("Two readings of an outline are compared by its sizes, and further apart than 1 % is too far",
          "[measure]") {
    const auto extent = [](double length_mm, double width_mm) {
        return extent_of(
            {{100, 60}, {100 + length_mm, 60}, {100 + length_mm, 60 + width_mm}, {100, 60 + width_mm}});
    };
    const auto apart = [&](const Extent& second) { return readings_apart(extent(100, 60), second); };
    const auto near = apart(extent(100.9, 60));
    CHECK(near.length_mm == Approx(0.9).margin(0.01));
    CHECK(near.width_mm == Approx(0).margin(0.01));
    CHECK(near.area_mm2 == Approx(54).margin(1));
    CHECK(near.area_share == Approx(0.009).margin(2e-4));
    CHECK(near.of_limit == Approx(0.9).margin(0.01));
    CHECK(apart(extent(101.2, 60)).of_limit > 1);
    CHECK(apart(extent(100, 60.8)).of_limit > 1);
    CHECK(apart(extent(100, 60.7)).of_limit < 1);  // beyond 1 %, within 0.75 mm
    // No second reading says nothing.
    CHECK(ReadingsApart().length_mm == 0);
    CHECK(ReadingsApart().of_limit == 0);
}
