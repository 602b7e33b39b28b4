#include "sample_maker/modules.h"

// The library asks for this: texts as UTF-8.
#include <ZXing/ReadBarcode.h>

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>
#include <set>

#include "errors.h"
#include "sample_maker/detect.h"

using namespace stripbook::sample_maker;
using namespace stripbook::test;

namespace {

// Many fiducials on one white picture, 5 px a module, each turned by `quarters`; cell i of 25 to a row.
constexpr int cell_px = 70;
constexpr int in_a_row = 25;

cv::Mat1b sheet_of_fiducials(FiducialFamily family, int count, int quarters) {
    cv::Mat1b sheet((count / in_a_row + 1) * cell_px, in_a_row * cell_px, uchar{255});
    for (int identity = 0; identity < count; ++identity) {
        const Modules modules = turned_clockwise(fiducial_modules(family, identity), quarters);
        cv::Mat1b print;
        cv::resize((1 - modules) * 255, print, {}, 5, 5, cv::INTER_NEAREST);
        const cv::Rect place(identity % in_a_row * cell_px + 15, identity / in_a_row * cell_px + 15,
                             print.cols, print.rows);
        print.copyTo(sheet(place));
    }
    return sheet;
}

void every_identity_reads_back(FiducialFamily family, const std::string& name, int count) {
    for (int quarters = 0; quarters < 4; ++quarters) {
        CAPTURE(name, quarters);
        const auto all = detect(sheet_of_fiducials(family, count, quarters), name);
        REQUIRE(all.size() == static_cast<std::size_t>(count));
        int right_place = 0;
        int right_turn = 0;
        for (const Seen& seen : all) {
            const cv::Point2d centre = centre_in_our_frame(seen);
            const int cell =
                static_cast<int>(centre.y) / cell_px * in_a_row + static_cast<int>(centre.x) / cell_px;
            right_place += cell == seen.identity ? 1 : 0;
            // Turned clockwise, the fiducial's own upper left corner moves on: upper right, lower right,
            // lower left.
            const cv::Point2d off = corners_in_our_frame(seen)[0] - centre;
            const int quadrant = off.x < 0 ? (off.y < 0 ? 0 : 3) : (off.y < 0 ? 1 : 2);
            right_turn += quadrant == quarters ? 1 : 0;
        }
        CHECK(right_place == count);
        CHECK(right_turn == count);
    }
}

}  // namespace

TEST_CASE("libapriltag reads every identity of 36h11 in every turn", "[sample_maker]") {
    every_identity_reads_back(FiducialFamily::tag36h11, "tag36h11", 587);
}

TEST_CASE("libapriltag reads every identity of 25h9 in every turn", "[sample_maker]") {
    every_identity_reads_back(FiducialFamily::tag25h9, "tag25h9", 35);
}

TEST_CASE("An identity that a family does not have is refused", "[sample_maker]") {
    CHECK_THROWS_AS(fiducial_modules(FiducialFamily::tag36h11, 587), stripbook::WrongUse);
    CHECK_THROWS_AS(fiducial_modules(FiducialFamily::tag25h9, 35), stripbook::WrongUse);
    CHECK_THROWS_AS(fiducial_modules(FiducialFamily::tag25h9, -1), stripbook::WrongUse);
}

TEST_CASE("A tag number becomes a version 1 QR code of level Q, a marker's text one of level M",
          "[sample_maker]") {
    const auto read = [](const Modules& modules) {
        cv::Mat1b print;
        cv::resize((1 - modules) * 255, print, {}, 8, 8, cv::INTER_NEAREST);
        cv::copyMakeBorder(print, print, 40, 40, 40, 40, cv::BORDER_CONSTANT, cv::Scalar(255));
        return ZXing::ReadBarcode(
            ZXing::ImageView(print.data, print.cols, print.rows, ZXing::ImageFormat::Lum),
            ZXing::DecodeHints().setFormats(ZXing::BarcodeFormat::QRCode));
    };
    for (const char* text : {"PET-00417-D", "W0RK-34568-E", "A7-00586-Y"}) {
        const Modules modules = qr_modules(text, QrLevel::quartile);
        CHECK(modules.size() == cv::Size(21, 21));  // ISO/IEC 18004 version 1
        const auto result = read(modules);
        CHECK(result.text() == text);
        CHECK(result.ecLevel() == "Q");
    }
    const Modules marker = qr_modules("MARKER-BENCH-0003", QrLevel::medium);
    CHECK(marker.size() == cv::Size(21, 21));
    CHECK(read(marker).text() == "MARKER-BENCH-0003");
    CHECK(read(marker).ecLevel() == "M");
    CHECK_THROWS_AS(qr_modules(std::string(5000, 'x'), QrLevel::medium), stripbook::WrongUse);
}
