// How photos look, in a few bytes.
#include "photo/signature.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

using namespace stripbook::photo;

namespace {

// A rough wall of one colour (BGR), coarse or fine, with a part of another colour somewhere on it.
cv::Mat scene(const cv::Scalar& wall, const cv::Scalar& part, int grain, cv::Point at, int seed) {
    cv::Mat noise(600 / grain, 800 / grain, CV_8UC3);
    cv::RNG random(static_cast<std::uint64_t>(seed) + 1);
    cv::Mat rough(noise.size(), CV_32FC3);
    random.fill(rough, cv::RNG::NORMAL, wall, cv::Scalar::all(14));
    rough.convertTo(noise, CV_8UC3);
    cv::Mat picture;
    cv::resize(noise, picture, {800, 600}, 0, 0, cv::INTER_CUBIC);
    cv::circle(picture, at, 120, part, cv::FILLED);
    return picture;
}

std::string jpeg(const cv::Mat& picture) {
    std::vector<unsigned char> bytes;
    cv::imencode(".jpg", picture, bytes);
    return {bytes.begin(), bytes.end()};
}

std::string seen(const cv::Mat& picture) {
    cv::Mat grey;
    cv::cvtColor(picture, grey, cv::COLOR_BGR2GRAY);
    return signature_of(grey, {}, jpeg(picture));
}

int difference(const std::string& a, const std::string& b) {
    REQUIRE(a.size() == b.size());
    int sum = 0;
    for (std::size_t i = 0; i < a.size(); ++i) {
        sum += std::abs(static_cast<unsigned char>(a[i]) - static_cast<unsigned char>(b[i]));
    }
    return sum;
}

const cv::Scalar rust(40, 70, 140);
const cv::Scalar grey_paint(120, 120, 120);
const cv::Scalar green_paint(60, 110, 50);

}  // namespace

TEST_CASE("Another place, another colour and another texture look less alike than the same moved",
          "[photo]") {
    const auto first = seen(scene(grey_paint, rust, 8, {200, 300}, 1));
    const auto moved = seen(scene(grey_paint, rust, 8, {560, 260}, 2));
    const int same = difference(first, moved);
    CHECK(difference(first, seen(scene(grey_paint, green_paint, 8, {200, 300}, 3))) > 2 * same);
    CHECK(difference(first, seen(scene(rust, grey_paint, 8, {200, 300}, 4))) > 2 * same);
    CHECK(difference(first, seen(scene(grey_paint, rust, 40, {200, 300}, 5))) > 2 * same);
}

TEST_CASE("Colours come from the camera's small picture, else from a small photo, else there are none",
          "[photo]") {
    const cv::Mat rusty = scene(grey_paint, rust, 8, {200, 300}, 1);
    const cv::Mat green = scene(grey_paint, green_paint, 8, {200, 300}, 1);
    cv::Mat grey;
    cv::cvtColor(rusty, grey, cv::COLOR_BGR2GRAY);
    cv::Mat small;
    cv::resize(green, small, {160, 120}, 0, 0, cv::INTER_AREA);
    const auto by_thumbnail = signature_of(grey, jpeg(small), jpeg(rusty));
    CHECK(difference(by_thumbnail, seen(green)) < difference(by_thumbnail, seen(rusty)));
    // A damaged one is no harm.
    CHECK(signature_of(grey, "no picture", jpeg(rusty)) == seen(rusty));
    cv::Mat large;
    cv::resize(grey, large, {4000, 3000});
    const auto in_grey = signature_of(large, {}, {});
    CHECK(in_grey.size() < by_thumbnail.size());
    CHECK(in_grey.front() != by_thumbnail.front());
}

TEST_CASE("What does not decode has no look", "[photo]") {
    CHECK(signature_of({}, {}, "no picture").empty());
}
