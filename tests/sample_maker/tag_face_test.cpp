#include "sample_maker/tag_face.h"

#include <catch2/catch.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "sample_maker/command.h"
#include "sample_maker/detect.h"
#include "scratch_folder.h"

using namespace stripbook::sample_maker;
using namespace stripbook::test;
using stripbook::number::BookCode;
using stripbook::number::TagNumber;

namespace {

const TagNumber pet417(BookCode::from_typed("PET"), 417);

// Millimetres of a place in a face drawn at `px_per_mm` (sheet.h: x mm lies at x * s - 0.5 px).
cv::Point2d mm_of(cv::Point2d px, double px_per_mm) {
    return (px + cv::Point2d(0.5, 0.5)) / px_per_mm;
}

}  // namespace

TEST_CASE("libapriltag finds the tag's fiducials where the tag specification puts them", "[sample_maker]") {
    const cv::Mat1b face = draw_tag_face({pet417, "Water outlet flange", "Engine / front / top"}, 20);
    CHECK(face.size() == cv::Size(2400, 1200));
    const auto all = detect(face, "tag36h11");
    CHECK(all.size() == 4);
    // Identities and centres as the specification lists them.
    const std::array<int, 4> identities{131, 373, 407, 543};
    const std::array<cv::Point2d, 4> centres_mm{{{24, 11}, {109, 11}, {109, 49}, {24, 49}}};
    const auto drawn = tag_fiducials(pet417);
    for (std::size_t i = 0; i < 4; ++i) {
        CAPTURE(i);
        const Seen seen = seen_once(all, identities[i]);
        CHECK(cv::norm(mm_of(centre_in_our_frame(seen), 20) - centres_mm[i]) < 0.05);
        // Black square of 16 mm, turned clockwise by i x 90 degrees; our own list says the same.
        const auto corners = corners_in_our_frame(seen);
        const std::array<cv::Point2d, 4> square{{{-8, -8}, {8, -8}, {8, 8}, {-8, 8}}};
        REQUIRE(drawn[i].identity == identities[i]);
        for (std::size_t k = 0; k < 4; ++k) {
            const cv::Point2d expected = centres_mm[i] + square[(k + i) % 4];
            CHECK(cv::norm(mm_of(corners[k], 20) - expected) < 0.05);
            CHECK(cv::norm(drawn[i].corners_mm[k] - expected) < 1e-12);
        }
    }
}

TEST_CASE("zbarimg reads the tag's QR code at 5 px/mm", "[sample_maker]") {
    const ScratchFolder folder;
    for (const auto& [book, serial, text] : {std::tuple("PET", 417, "PET-00417-D"),
                                             {"A7", 586, "A7-00586-Y"},
                                             {"OAK", 29565, "OAK-29565-Q"},
                                             {"W0RK", 34568, "W0RK-34568-E"}}) {
        const auto file = folder / (std::string(text) + ".png");
        REQUIRE(cv::imwrite(file, draw_tag_face({TagNumber(BookCode::from_typed(book), serial)}, 5)));
        CHECK(run("zbarimg -q --raw -Sdisable -Sqrcode.enable " + quoted(file) + " 2>/dev/null").output ==
              std::string(text) + "\n");
    }
}

TEST_CASE("The QR code, the hole and the text lie where the tag specification puts them", "[sample_maker]") {
    const cv::Mat1b face = draw_tag_face({pet417, "Water outlet flange", "Engine / front / top"}, 20);
    const auto dark_in = [&](double x, double y, double w, double h) {
        return cv::countNonZero(face(cv::Rect(cv::Point(cvRound(x * 20), cvRound(y * 20)),
                                              cv::Size(cvRound(w * 20), cvRound(h * 20)))) < 128);
    };
    // QR: centre (50, 30), 23.1 in all, 4.4 of white around it (left, above, below; the text box begins at
    // 66).
    CHECK(dark_in(38.45, 18.45, 23.1, 23.1) > 23.1 * 23.1 * 400 / 3);
    CHECK(dark_in(38.46, 18.46, 1.0, 7.6) ==
          20 * 152);  // the upper left finder pattern's outer bar, 7 modules long
    CHECK(dark_in(38.45 - 4.4, 18.45, 4.38, 23.1) == 0);
    CHECK(dark_in(61.57, 18.45, 4.38, 23.1) == 0);
    CHECK(dark_in(38.45, 18.45 - 4.4, 23.1, 4.38) == 0);
    CHECK(dark_in(38.45, 41.57, 23.1, 4.38) == 0);
    // Hole: ring of diameter 5 around (7, 30), white inside and outside.
    CHECK(dark_in(4.3, 29.5, 0.4, 1) > 0);
    CHECK(dark_in(9.3, 29.5, 0.4, 1) > 0);
    CHECK(dark_in(5.5, 28.5, 3, 3) == 0);
    CHECK(dark_in(0, 0, 4.2, 60) == 0);
    // Text in x 66 to 98, y 20 to 40, and nothing between it and the fiducials.
    CHECK(dark_in(66, 20, 32, 20) > 1000);
    CHECK(dark_in(98.2, 19.5, 2, 21) == 0);
    CHECK(dark_in(62, 42, 38, 18) == 0);
    CHECK(dark_in(62, 0, 38, 19.8) == 0);
    // At least 2 mm of white around a fiducial.
    CHECK(dark_in(14, 1, 1.98, 20) == 0);
    CHECK(dark_in(14, 1, 20, 1.98) == 0);
}
