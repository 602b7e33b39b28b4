// The picture of the time that we draw, on a screen in a photo, is read by the reading station.
#include <catch2/catch.hpp>
#include <opencv2/imgcodecs.hpp>

#include "day/read_photo.h"
#include "link/clocks.h"
#include "print/clock_picture.h"
#include "sample_maker/random_pose.h"
#include "sample_maker/scene.h"

using namespace stripbook;

namespace {

constexpr std::int64_t shown_s = 1773997095;  // date -u -d '2026-03-20 08:58:15' +%s

std::string photo_of_the_clock(double px_per_mm, std::uint64_t seed) {
    const std::string png = print::clock_picture(shown_s);
    sample_maker::PictureFace face;
    face.picture = cv::imdecode(std::vector<unsigned char>(png.begin(), png.end()), cv::IMREAD_GRAYSCALE);
    REQUIRE_FALSE(face.picture.empty());
    constexpr double screen_mm = 65;  // a phone, upright
    face.size_mm = {screen_mm, screen_mm * face.picture.rows / face.picture.cols};
    sample_maker::Scene scene;
    scene.camera = sample_maker::plain_camera({1600, 1200});
    scene.background = {sample_maker::BackgroundKind::noise, 90, 40};
    sample_maker::Dice dice(seed);
    scene.items.push_back(
        {face, sample_maker::random_pose(scene.camera, face.size_mm, {px_per_mm, 20, 15}, dice)});
    scene.blur_sigma_px = 0.6;
    scene.noise_sigma = 3;
    scene.seed = seed;
    return sample_maker::photo_file_of(scene);
}

}  // namespace

TEST_CASE("A photo of the clock tells the time on it, near and from further away", "[day]") {
    for (const double px_per_mm : {3.0, 6.0, 12.0}) {
        for (const std::uint64_t seed : {1U, 2U, 3U}) {
            INFO(px_per_mm << " px/mm, seed " << seed);
            const auto reading = day::read_photo(photo_of_the_clock(px_per_mm, seed),
                                                 {number::BookCode::from_typed("PET"), {}});
            REQUIRE(reading.sightings.size() == 1);
            CHECK(reading.sightings[0].kind == book::SightingKind::clock_shot);
            CHECK(reading.sightings[0].text == "TIME 2026-03-20T08:58:15Z");
            CHECK(link::utc_of_clock_shot(reading.sightings[0].text) == static_cast<double>(shown_s));
        }
    }
}
