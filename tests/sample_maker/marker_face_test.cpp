#include "sample_maker/marker_face.h"

#include <catch2/catch.hpp>
#include <map>
#include <opencv2/imgcodecs.hpp>

#include "errors.h"
#include "sample_maker/command.h"
#include "sample_maker/detect.h"
#include "sample_maker/face.h"
#include "scratch_folder.h"

using namespace stripbook::sample_maker;
using namespace stripbook::test;

namespace {

struct Printed {
    std::string kind;
    double px_per_mm;
    double side_mm;
    std::map<int, cv::Point2d> centres_mm;
};

// As the tag specification lists them; of the mat its corners and one more on each side, counted clockwise.
const std::vector<Printed> specified{
    {"pocket", 20, 14, {{0, {10, 10}}, {1, {75.6, 10}}, {2, {75.6, 43.98}}, {3, {10, 43.98}}}},
    {"bench",
     10,
     25.2,
     {{4, {22, 22}},
      {5, {148.5, 22}},
      {6, {275, 22}},
      {7, {275, 105}},
      {8, {275, 188}},
      {9, {148.5, 188}},
      {10, {22, 188}},
      {11, {22, 105}}}},
    {"mat",
     4,
     42,
     {{12, {34, 34}},
      {13, {227.25, 34}},
      {16, {807, 34}},
      {17, {807, 165.5}},
      {20, {807, 560}},
      {21, {613.75, 560}},
      {24, {34, 560}},
      {27, {34, 165.5}}}}};

}  // namespace

TEST_CASE("libapriltag finds the markers' fiducials where the tag specification puts them",
          "[sample_maker]") {
    for (const Printed& printed : specified) {
        const cv::Mat1b face = draw_marker_face({printed.kind, 3}, printed.px_per_mm);
        const auto all = detect(face, "tag25h9");
        CHECK(all.size() == layout_of({printed.kind}).fiducials.size());
        for (const auto& [identity, centre_mm] : printed.centres_mm) {
            CAPTURE(printed.kind, identity);
            const Seen seen = seen_once(all, identity);
            // x mm lies at x * s - 0.5 px (sheet.h). On edges that run along the pixel rows libapriltag leans
            // by up to 0.2 px to one side.
            const auto off_px = [&](cv::Point2d seen_px, cv::Point2d mm) {
                return cv::norm(seen_px + cv::Point2d(0.5, 0.5) - mm * printed.px_per_mm);
            };
            const cv::Point2d half(printed.side_mm / 2, printed.side_mm / 2);
            CHECK(off_px(centre_in_our_frame(seen), centre_mm) < 0.3);
            CHECK(off_px(corners_in_our_frame(seen)[0], centre_mm - half) < 0.4);
            CHECK(off_px(corners_in_our_frame(seen)[2], centre_mm + half) < 0.4);
        }
    }
}

TEST_CASE("zbarimg reads which sheet a marker is", "[sample_maker]") {
    const ScratchFolder folder;
    const auto read = [&](const char* kind, double px_per_mm) {
        const auto file = folder / "marker.png";
        REQUIRE(cv::imwrite(file, draw_marker_face({kind, 3}, px_per_mm)));
        return run("zbarimg -q --raw -Sdisable -Sqrcode.enable " + quoted(file) + " 2>/dev/null").output;
    };
    CHECK(read("pocket", 6) == "MARKER-POCKET-0003\n");
    CHECK(read("bench", 5) == "MARKER-BENCH-0003\n");
    CHECK(read("mat", 3) == "MARKER-MAT-0003\n");
}

TEST_CASE("A stage card shows its identity twice", "[sample_maker]") {
    const std::vector<std::pair<std::string, int>> stages{
        {"as-removed", 28}, {"cleaned", 29}, {"inspected", 30}, {"blasted", 31},
        {"mock-up", 32},    {"painted", 33}, {"refitted", 34}};
    for (const auto& [stage, identity] : stages) {
        CAPTURE(stage);
        const auto all = detect(draw_stage_face({stage}, 10), "tag25h9");
        REQUIRE(all.size() == 2);
        CHECK(all[0].identity == identity);
        CHECK(all[1].identity == identity);
    }
    CHECK(face_size_mm(StageFace{"cleaned"}) == cv::Size2d(85.6, 53.98));
}

TEST_CASE("Unknown markers and stages are refused with what there is", "[sample_maker]") {
    CHECK_THROWS_WITH(layout_of({"table"}), Catch::Contains("pocket, bench or mat"));
    CHECK_THROWS_WITH(identity_of({"washed"}), Catch::Contains("cleaned") && Catch::Contains("refitted"));
    CHECK_THROWS_AS(draw_marker_face({"table"}, 1), stripbook::WrongUse);
}
