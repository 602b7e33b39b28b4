// Videos of drawn tags through the reading station.
#include "day/read_video.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <opencv2/imgcodecs.hpp>

#include "made_video.h"
#include "sample_maker/random_pose.h"
#include "sample_maker/scene.h"
#include "scratch_folder.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Sighting;
using book::SightingKind;

namespace {

const day::Expected expected{number::BookCode::from_typed("PET")};

cv::Mat picture_of_tag(int serial) {
    sample_maker::Scene scene;
    scene.camera = sample_maker::plain_camera({1280, 720});
    scene.background = {sample_maker::BackgroundKind::noise, 90, 40};
    sample_maker::Dice dice(static_cast<std::uint64_t>(serial));
    const auto pose = sample_maker::random_pose(scene.camera, {120, 60}, {4, 15, 10}, dice);
    scene.items.push_back({sample_maker::TagFace{number::TagNumber(expected.here, serial)}, pose});
    scene.noise_sigma = 3;
    const std::string file = sample_maker::photo_file_of(scene);
    return cv::imdecode(std::vector<char>(file.begin(), file.end()), cv::IMREAD_COLOR);
}

cv::Mat floor_picture() {
    cv::Mat floor(720, 1280, CV_8UC3);
    cv::RNG(3).fill(floor, cv::RNG::NORMAL, 90, 20);
    return floor;
}

Sighting seen(const std::string& text, SightingKind kind = SightingKind::tag) {
    Sighting s;
    s.kind = kind;
    s.text = text;
    s.confirmed = true;
    s.how = "QR code";
    return s;
}

Sighting doubtful(std::vector<std::string> suggestions = {}) {
    Sighting s;
    s.kind = SightingKind::tag;
    s.doubt = "two fiducials alone are not enough to be sure";
    s.suggestions = std::move(suggestions);
    return s;
}

std::string told(const std::vector<Sighting>& sightings) {
    std::string text;
    for (const auto& s : sightings) {
        text += "[" + s.text + ": " + s.how + "]";
    }
    return text;
}

}  // namespace

TEST_CASE("Tags in the first seconds of a video are read, each once, with its time", "[day][video]") {
    const ScratchFolder scratch;
    const auto file = scratch / "a.avi";
    write_video(file, {{floor_picture(), 1}, {picture_of_tag(417), 2}, {picture_of_tag(424), 2}});
    const auto reading = day::read_video(file.string(), expected);
    CHECK(reading.facts.read_state == book::ReadState::read);
    CHECK(reading.facts.read_note.empty());
    CHECK(reading.facts.width_px == 1280);
    CHECK(reading.facts.height_px == 720);
    REQUIRE(reading.sightings.size() == 2);
    CHECK(reading.sightings[0].text == number::TagNumber(expected.here, 417).text());
    CHECK_THAT(reading.sightings[0].how, Catch::EndsWith(", at 1.0 s"));
    CHECK(reading.sightings[1].text == number::TagNumber(expected.here, 424).text());
    CHECK_THAT(reading.sightings[1].how, Catch::EndsWith(", at 3.0 s"));
    const cv::Mat poster =
        cv::imdecode(std::vector<char>(reading.poster.begin(), reading.poster.end()), cv::IMREAD_COLOR);
    CHECK(poster.size() == cv::Size(1280, 720));
}

TEST_CASE("The answer of a worker carries the poster whole", "[day][video]") {
    const ScratchFolder scratch;
    const auto file = scratch / "with \"a\"\nnewline.avi";
    write_video(file, {{picture_of_tag(417), 1}});
    const auto direct = day::read_video(file.string(), expected);
    const auto answered = day::reading_from_answer(
        day::answer_to(day::job_for(file.string(), book::FileKind::video, expected)));
    CHECK(answered.poster == direct.poster);
    CHECK(told(answered.sightings) == told(direct.sightings));
    CHECK(answered.facts.width_px == 1280);
}

TEST_CASE("A video that does not decode is a damaged reading without a poster", "[day][video]") {
    const ScratchFolder scratch;
    const auto file = scratch / "a.mov";
    std::ofstream(file) << "no real video";
    const auto reading = day::read_video(file.string(), expected);
    CHECK(reading.facts.read_state == book::ReadState::damaged);
    CHECK(reading.facts.read_note == "not a video this program reads");
    CHECK(reading.poster.empty());
}

TEST_CASE("A half-seen tag counts only when it may be one that no frame confirms", "[day][video]") {
    using day::sightings_of_video;
    CHECK(told(sightings_of_video({{0, {doubtful()}}, {0.5, {seen("A")}}, {1, {seen("A"), seen("B")}}})) ==
          "[A: QR code, at 0.5 s][B: QR code, at 1.0 s]");
    CHECK(told(sightings_of_video({{0, {doubtful({"A"})}}, {0.5, {seen("A")}}})) == "[A: QR code, at 0.5 s]");
    CHECK(told(sightings_of_video({{0, {seen("A")}}, {0.5, {doubtful({"C"})}}, {1, {doubtful({"C"})}}})) ==
          "[A: QR code, at 0.0 s][: at 0.5 s]");
    CHECK(told(sightings_of_video({{0, {}}, {0.5, {doubtful()}}, {1, {doubtful()}}})) == "[: at 0.5 s]");
    // A code that is no tag settles nothing; scale markers and stage cards are a matter of photos.
    CHECK(told(sightings_of_video(
              {{0, {seen("X", SightingKind::other_code), seen("bar", SightingKind::scale_marker)}},
               {0.5, {doubtful(), seen("X", SightingKind::other_code)}}})) ==
          "[X: QR code, at 0.0 s][: at 0.5 s]");
}
