#include "print/qr_drawing.h"

#include <ZXing/ReadBarcode.h>

#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "errors.h"

using namespace stripbook::print;

TEST_CASE("The rectangles are a QR code of level Q with four white modules around it", "[print]") {
    // Version 1 has 21 modules; with the quiet zone 29.
    const auto boxes = qr_rectangles("R/PET-00417-D", {0, 0, 29, 29});
    cv::Mat picture(290, 290, CV_8UC1, cv::Scalar(255));
    for (const BoxMm& box : boxes) {
        CHECK(box.x >= 4 - 1e-9);
        CHECK(box.right() <= 25 + 1e-9);
        CHECK(box.height == Approx(1));
        const auto pixels = [](double mm) { return static_cast<int>(std::lround(10 * mm)); };
        cv::rectangle(picture, {pixels(box.x), pixels(box.y), pixels(box.width), pixels(box.height)},
                      cv::Scalar(0), cv::FILLED);
    }
    const auto result =
        ZXing::ReadBarcode({picture.data, picture.cols, picture.rows, ZXing::ImageFormat::Lum});
    REQUIRE(result.isValid());
    CHECK(result.text() == "R/PET-00417-D");
    CHECK(result.ecLevel() == "Q");
}

TEST_CASE("Text too long for a QR code is refused in plain words", "[print]") {
    CHECK_THROWS_AS(qr_rectangles(std::string(5000, 'X'), {0, 0, 29, 29}), stripbook::WrongUse);
}
