// Codes printed by zint, an independent writer of ISO/IEC 16022 and 15417 symbols.
#include "tag/other_codes.h"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "scratch_folder.h"

using stripbook::tag::read_other_codes;
using stripbook::test::ScratchFolder;

namespace {

cv::Mat symbol(const std::string& kind, const std::string& text, int scale) {
    const ScratchFolder folder;
    const std::string file = (folder / "symbol.png").string();
    const std::string command = "zint --quietzones --scale=" + std::to_string(scale) + " -b " + kind +
                                " -o '" + file + "' -d '" + text + "'";
    INFO("the command zint of the Debian package zint");
    REQUIRE(std::system(command.c_str()) == 0);
    return cv::imread(file, cv::IMREAD_GRAYSCALE);
}

// A grey floor with grain.
cv::Mat floor_of(int width, int height) {
    cv::Mat grey(height, width, CV_8UC1);
    cv::RNG dice(3);
    dice.fill(grey, cv::RNG::NORMAL, 140, 8);
    return grey;
}

void lay(cv::Mat& floor, const cv::Mat& symbol, cv::Point at) {
    cv::Mat label;
    cv::copyMakeBorder(symbol, label, 20, 20, 20, 20, cv::BORDER_CONSTANT, cv::Scalar(255));
    label.copyTo(floor(cv::Rect(at, label.size())));
}

}  // namespace

TEST_CASE("Several Data Matrix codes are read anywhere in the picture") {
    cv::Mat floor = floor_of(1600, 1200);
    lay(floor, symbol("DATAMATRIX", "KBO 4711/2", 4), {100, 80});
    lay(floor, symbol("DATAMATRIX", "somebody else", 3), {1200, 900});
    const auto codes = read_other_codes(floor, {});
    REQUIRE(codes.size() == 2);
    CHECK(codes[0].symbology == "Data Matrix");
    const bool first = codes[0].text == "KBO 4711/2";
    CHECK(codes[first ? 0 : 1].text == "KBO 4711/2");
    CHECK(codes[first ? 1 : 0].text == "somebody else");
    // Within the label of 20 + quiet zone pixels.
    CHECK(cv::norm(codes[first ? 0 : 1].corners[0] - cv::Point2d(128, 108)) < 6);
}

TEST_CASE("A turned Data Matrix is read") {
    cv::Mat floor = floor_of(900, 700);
    lay(floor, symbol("DATAMATRIX", "KBO 4711/2", 5), {500, 300});
    const cv::Mat turn = cv::getRotationMatrix2D({450, 350}, 33, 1);
    cv::warpAffine(floor, floor, turn, floor.size(), cv::INTER_LINEAR, cv::BORDER_REPLICATE);
    const auto codes = read_other_codes(floor, {});
    REQUIRE(codes.size() == 1);
    CHECK(codes[0].text == "KBO 4711/2");
}

TEST_CASE("A Code 128 counts only with a text that is known") {
    cv::Mat floor = floor_of(1600, 1200);
    lay(floor, symbol("CODE128", "ACME-0042", 2), {100, 100});
    lay(floor, symbol("CODE128", "ACME-0043", 2), {800, 800});
    CHECK(read_other_codes(floor, {}).empty());
    const auto both = read_other_codes(floor, {"ACME-0043", "ACME-0042"});
    CHECK(both.size() == 2);
    const auto one = read_other_codes(floor, {"ACME-0043", "ACME-9999"});
    REQUIRE(one.size() == 1);
    CHECK(one[0].text == "ACME-0043");
    CHECK(one[0].symbology == "Code 128");
}

TEST_CASE("A floor without codes reads as nothing") {
    CHECK(read_other_codes(floor_of(1600, 1200), {"1", "A"}).empty());
    CHECK_THROWS(read_other_codes(cv::Mat(10, 10, CV_8UC3), {}));
}
