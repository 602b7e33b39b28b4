// Steps of an outline between a part's edge and the border of its shadow.
#include "measure/false_steps.h"

#include <algorithm>

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "measure/closed_line.h"

using namespace stripbook::measure;

namespace {

constexpr double edge_x = 400;
constexpr double off_px = 8;
constexpr double usual = 100;  // grey levels between part and ground

// A dark part on light ground, with what lies beside its right side.
cv::Mat3b picture_with(const cv::Rect& beside, uchar beside_grey) {
    cv::Mat3b picture(700, 600, cv::Vec3b(190, 190, 190));
    picture(beside) = cv::Vec3b::all(beside_grey);
    picture(cv::Rect(100, 100, 300, 500)) = cv::Vec3b(90, 90, 90);
    cv::GaussianBlur(picture, picture, {}, 0.8);
    return picture;
}

// Around the part; from 300 to 400 px down the right side runs further out.
std::vector<cv::Point2d> stepped_outline() {
    const std::vector<cv::Point2d> corners = {
        {100, 100},    {edge_x, 100}, {edge_x, 300}, {edge_x + off_px, 300}, {edge_x + off_px, 400},
        {edge_x, 400}, {edge_x, 600}, {100, 600}};
    constexpr double apart_px = 1.5;
    return evenly_spaced(corners, static_cast<std::size_t>(wrapped_length(corners) / apart_px));
}

// How far the right side lies out of the part's edge between two heights: least and most.
std::pair<double, double> out_between(const std::vector<cv::Point2d>& outline, double top, double bottom) {
    std::pair<double, double> out(1e9, -1e9);
    for (const auto& px : outline) {
        if (px.x > edge_x - off_px && px.y > top && px.y < bottom) {
            out = {std::min(out.first, px.x - edge_x), std::max(out.second, px.x - edge_x)};
        }
    }
    return out;
}

}  // namespace

TEST_CASE("An outline's step to the border of a shadow is told, one of the part is not", "[measure]") {
    const auto outline = stepped_outline();
    const cv::Mat3b shadow = picture_with({400, 130, static_cast<int>(off_px), 440}, 130);
    const auto steps = false_steps(shadow, outline, usual);
    REQUIRE(steps.size() == 2);
    for (const auto& step : steps) {
        const bool out = outline[step.before].y < 350;
        CHECK(step.off_px == Approx(out ? off_px : -off_px).margin(1.5));
        CHECK(step.outward.x == Approx(1).margin(0.05));
    }
    const cv::Mat3b lug = picture_with({400, 300, static_cast<int>(off_px), 100}, 90);
    CHECK(false_steps(lug, outline, usual).empty());
}

TEST_CASE("The lines that false steps join are moved onto the inner or the outer ones", "[measure]") {
    const auto outline = stepped_outline();
    const auto steps =
        false_steps(picture_with({400, 130, static_cast<int>(off_px), 440}, 130), outline, usual);
    const auto inner = moved_onto(Lines::inner, outline, steps);
    const auto outer = moved_onto(Lines::outer, outline, steps);
    constexpr double step_px = 1.5;
    // Clear of the steps themselves, whose own points belong to neither line.
    for (const auto& [top, bottom] : {std::pair(110.0, 295.0), {305.0, 395.0}, {405.0, 590.0}}) {
        INFO(top << " to " << bottom);
        CHECK(out_between(inner, top, bottom).second < step_px);
        CHECK(out_between(outer, top, bottom).first > off_px - step_px);
    }
    // The other sides stay where they were.
    for (const auto* moved : {&inner, &outer}) {
        const auto box = cv::boundingRect(std::vector<cv::Point2f>(moved->begin(), moved->end()));
        CHECK(box.x == 100);
        CHECK(box.y == 100);
        CHECK(box.height == Approx(501).margin(1));
    }
    CHECK(moved_onto(Lines::outer, outline, {}) == outline);
}

TEST_CASE("A line that goes on along no edge is no other reading", "[measure]") {
    const auto outline = stepped_outline();
    // The shadow ends 10 px beyond where the outline takes it in.
    const auto steps =
        false_steps(picture_with({400, 290, static_cast<int>(off_px), 120}, 130), outline, usual);
    REQUIRE(steps.size() == 2);
    for (const auto& step : steps) {
        const bool out = step.off_px > 0;
        CHECK((out ? step.before_goes_on : step.behind_goes_on) > 0.5);
        CHECK((out ? step.behind_goes_on : step.before_goes_on) < 0.35);
    }
    CHECK(moved_onto(Lines::outer, outline, steps) == outline);
    CHECK(out_between(moved_onto(Lines::inner, outline, steps), 305, 395).second < 1.5);
}
