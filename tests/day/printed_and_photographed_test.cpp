// What we print, we read: a page made by the print room, printed (by pdftoppm), photographed (by the sample
// maker), read by the reading station.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <opencv2/imgcodecs.hpp>

#include "day/read_photo.h"
#include "number/marker_layout.h"
#include "print/marker_pack.h"
#include "print/report_file.h"
#include "print/tag_pack.h"
#include "sample_maker/random_pose.h"
#include "sample_maker/scene.h"
#include "scratch_folder.h"

using namespace stripbook;
using namespace stripbook::test;
using book::SightingKind;

namespace {

const print::PackOptions options{"2026-11-25", "test"};

number::BookCode pet() {
    return number::BookCode::from_typed("PET");
}

// The first page as a printer of 600 dots an inch lays it down, and its size.
sample_maker::PictureFace printed(const print::Pack& pack) {
    constexpr double dpi = 600;
    const ScratchFolder scratch;
    print::write_whole_file(scratch / "page.pdf", pack.bytes);
    const std::string stem = (scratch / "page").string();
    const std::string command = "pdftoppm -r 600 -gray -singlefile -l 1 '" + stem + ".pdf' '" + stem + "'";
    REQUIRE(std::system(command.c_str()) == 0);
    sample_maker::PictureFace face;
    face.picture = cv::imread(stem + ".pgm", cv::IMREAD_GRAYSCALE);
    REQUIRE_FALSE(face.picture.empty());
    face.size_mm = {face.picture.cols / dpi * 25.4, face.picture.rows / dpi * 25.4};
    return face;
}

// The piece of a face in `box_mm`, as scissors leave it.
sample_maker::PictureFace cut_out(const sample_maker::PictureFace& face, const cv::Rect2d& box_mm) {
    const double px_per_mm = face.picture.cols / face.size_mm.width;
    const cv::Rect box(cvRound(box_mm.x * px_per_mm), cvRound(box_mm.y * px_per_mm),
                       cvRound(box_mm.width * px_per_mm), cvRound(box_mm.height * px_per_mm));
    return {face.picture(box).clone(), box_mm.size()};
}

std::string photographed(const sample_maker::PictureFace& face, double px_per_mm, std::uint64_t seed) {
    sample_maker::Scene scene;
    scene.camera = sample_maker::plain_camera({1600, 1200});
    scene.background = {sample_maker::BackgroundKind::noise, 90, 40};
    sample_maker::Dice dice(seed);
    const auto pose = sample_maker::random_pose(scene.camera, face.size_mm, {px_per_mm, 25, 10}, dice);
    scene.items.push_back({face, pose});
    scene.blur_sigma_px = 0.6;
    scene.noise_sigma = 3;
    scene.seed = seed;
    return sample_maker::photo_file_of(scene);
}

std::vector<book::Sighting> sightings(const std::string& photo, SightingKind kind) {
    std::vector<book::Sighting> out;
    for (const auto& sighting : day::read_photo(photo, {pet()}).sightings) {
        if (sighting.kind == kind) {
            out.push_back(sighting);
        }
    }
    return out;
}

}  // namespace

TEST_CASE("A printed tag that is photographed is read, large and small", "[day]") {
    const auto size = GENERATE(book::TagSize::large, book::TagSize::small);
    const int serial = GENERATE(1, 417, 99999);
    book::PrintOrder order;
    order.paper = "roll";
    order.size = size;
    const number::TagNumber tag(pet(), serial);
    const auto face = printed(print::tag_pack({{tag, "Axlebox cover", "Bogie 1"}}, order, options));
    // The same pixels a module for both: 2 px/mm on the large tag.
    const double px_per_mm = size == book::TagSize::small ? 2 / number::small_tag_scale : 2;
    const auto seen =
        sightings(photographed(face, px_per_mm, static_cast<std::uint64_t>(serial)), SightingKind::tag);
    REQUIRE(seen.size() == 1);
    CHECK(seen[0].confirmed);
    CHECK(seen[0].text == tag.text());
    CHECK(seen[0].fiducials == 4);
}

TEST_CASE("A printed stage card and a printed pocket marker are seen as what they are", "[day]") {
    const auto cards = printed(print::stage_card_pack("a4", options));
    // The first card's place on the page: two columns of ID-1 cards in the middle of A4, five rows.
    const double left = (210 - 2 * 85.6) / 2;
    const double top = (297 - 5 * 53.98) / 2;
    const auto card = cut_out(cards, {left, top, 85.6, 53.98});
    const auto stages = sightings(photographed(card, 4, 1), SightingKind::stage_card);
    REQUIRE(stages.size() == 1);
    CHECK(stages[0].text == "as-removed");
    CHECK(stages[0].confirmed);

    const auto pocket =
        cut_out(printed(print::marker_pack(number::marker_layout("pocket"), {12}, "a4", false, options)),
                {left, top, 85.6, 53.98});
    const std::string photo = photographed(pocket, 6, 2);
    const auto markers = sightings(photo, SightingKind::scale_marker);
    REQUIRE(markers.size() == 1);
    CHECK(markers[0].text == "pocket");
    CHECK(markers[0].fiducials == 4);
    const auto codes = sightings(photo, SightingKind::other_code);
    REQUIRE(codes.size() == 1);
    CHECK(codes[0].text == "MARKER-POCKET-0012");
}

TEST_CASE("A printed bench marker says its kind, its sheet and where it lies", "[day]") {
    const auto bench = printed(print::marker_pack(number::marker_layout("bench"), {3}, "a4", false, options));
    const std::string photo = photographed(bench, 3, 3);
    const auto markers = sightings(photo, SightingKind::scale_marker);
    REQUIRE(markers.size() == 1);
    CHECK(markers[0].text == "bench");
    CHECK(markers[0].fiducials == 8);
    const auto codes = sightings(photo, SightingKind::other_code);
    REQUIRE(codes.size() == 1);
    CHECK(codes[0].text == "MARKER-BENCH-0003");
}
