// HEIC and AVIF, made by heif-enc and avifenc and judged by what heif-convert shows of them.
#include "photo/heif_decoder.h"

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <set>

#include "outside_tool.h"
#include "photo/colour_profile.h"
#include "photo/metadata.h"
#include "photo/picture.h"
#include "photo/print_copy.h"
#include "scratch_folder.h"

using stripbook::photo::decode_colour;
using stripbook::photo::decode_grey;
using stripbook::photo::FileFormat;
using stripbook::photo::format_of;
using stripbook::photo::Picture;
using stripbook::photo::read_metadata;
using stripbook::photo::stored_size;
using namespace stripbook::test;

namespace {

constexpr int width = 301;
constexpr int height = 207;

// A gradient with marks that tell every turn and mirroring from every other.
void draw(const std::filesystem::path& file, const std::string& options = "") {
    output_of(
        fmt::format("convert-im6.q16 -size {}x{} gradient:navy-orange -depth 8 -fill white -draw 'rectangle "
                    "10,10 90,40' -fill black -draw 'rectangle 10,60 30,140' {} {}",
                    width, height, options, quoted(file)),
        "imagemagick");
}

std::string encoded(const ScratchFolder& folder, const std::string& name, const std::string& command,
                    const std::string& package) {
    const auto file = folder / name;
    output_of(command + " " + quoted(file) + " 2>&1", package);
    return bytes_of(file);
}

std::string heic(const ScratchFolder& folder, const std::string& source, const std::string& options = "") {
    return encoded(folder, "made.heic", "heif-enc -q 95 " + options + " " + quoted(folder / source) + " -o",
                   "libheif-examples");
}

std::string avif(const ScratchFolder& folder, const std::string& source, const std::string& options) {
    return encoded(folder, "made.avif",
                   "avifenc -s 9 --min 5 --max 10 " + options + " " + quoted(folder / source), "libavif-bin");
}

// Turned by the container, as a viewer shows it.
cv::Mat as_heif_convert_shows(const ScratchFolder& folder, const std::string& name) {
    const auto file = folder / "shown.png";
    output_of("heif-convert " + quoted(folder / name) + " " + quoted(file), "libheif-examples");
    return cv::imread(file.string(), cv::IMREAD_COLOR);
}

// The EXIF turn of a stored picture, done by ImageMagick.
cv::Mat turned(const ScratchFolder& folder, const cv::Mat& stored, int orientation) {
    static const char* const words[] = {"TopLeft", "TopRight", "BottomRight", "BottomLeft",
                                        "LeftTop", "RightTop", "RightBottom", "LeftBottom"};
    cv::imwrite((folder / "stored.png").string(), stored);
    output_of(fmt::format("convert-im6.q16 {} -orient {} -auto-orient {}", quoted(folder / "stored.png"),
                          words[orientation - 1], quoted(folder / "turned.png")),
              "imagemagick");
    return cv::imread((folder / "turned.png").string(), cv::IMREAD_COLOR);
}

void check_same(const cv::Mat& seen, const cv::Mat& expected) {
    REQUIRE(seen.size() == expected.size());
    // One library decodes for both; the way back to 8-bit RGB may round differently.
    CHECK(cv::norm(seen, expected, cv::NORM_INF) <= 2);
}

}  // namespace

TEST_CASE("HEIC and AVIF are told by their first box, whatever the name says", "[photo][heif]") {
    const ScratchFolder folder;
    draw(folder / "a.png");
    CHECK(format_of(heic(folder, "a.png")) == FileFormat::heif);
    CHECK(format_of(avif(folder, "a.png", "")) == FileFormat::heif);
    using namespace std::string_view_literals;
    CHECK(format_of("\0\0\0\x18"
                    "ftypmp42\0\0\0\0mp42isom"sv) == FileFormat::unknown);
    CHECK(format_of("\0\0\0\x14"
                    "ftypqt  \0\0\0\0qt  "sv) == FileFormat::unknown);
    CHECK(format_of("\0\0\0\x18"
                    "ftypmif1\0\0\0\0heic"sv) == FileFormat::heif);
}

TEST_CASE("A HEIC of odd sides decodes to what heif-convert shows", "[photo][heif]") {
    const ScratchFolder folder;
    draw(folder / "a.png");
    const std::string bytes = heic(folder, "a.png");
    CHECK(stored_size(bytes) == cv::Size(width, height));
    const Picture picture = decode_colour(bytes);
    CHECK(picture.whole);
    CHECK(picture.fault.empty());
    CHECK(picture.stored == cv::Size(width, height));
    check_same(picture.pixels, as_heif_convert_shows(folder, "made.heic"));
    const Picture grey = decode_grey(bytes);
    REQUIRE(grey.pixels.type() == CV_8UC1);
    cv::Mat expected;
    cv::cvtColor(picture.pixels, expected, cv::COLOR_BGR2GRAY);
    CHECK(cv::norm(grey.pixels, expected, cv::NORM_INF) == 0);
}

TEST_CASE("The stored grid is not turned by the container, and the turn is told", "[photo][heif]") {
    const ScratchFolder folder;
    draw(folder / "a.png");
    std::set<int> seen;
    for (const char* mirror : {"", "--imir 0", "--imir 1"}) {
        for (int quarters = 0; quarters < 4; ++quarters) {
            const std::string options = fmt::format("--irot {} {}", quarters, mirror);
            INFO(options);
            const std::string bytes = avif(folder, "a.png", options);
            CHECK(stored_size(bytes) == cv::Size(width, height));
            const Picture picture = decode_colour(bytes);
            REQUIRE(picture.pixels.size() == cv::Size(width, height));
            const int orientation = read_metadata(bytes).orientation;
            seen.insert(orientation);
            check_same(turned(folder, picture.pixels, orientation),
                       as_heif_convert_shows(folder, "made.avif"));
        }
    }
    CHECK(seen == std::set<int>{1, 2, 3, 4, 5, 6, 7, 8});
}

TEST_CASE("The container's turn and the same turn in the Exif data count once", "[photo][heif]") {
    const ScratchFolder folder;
    draw(folder / "a.jpg");
    // A quarter to the left is irot 1 and orientation 8.
    output_of("exiftool -q -overwrite_original -n -Orientation=8 -Make=Ferrow " + quoted(folder / "a.jpg"),
              "libimage-exiftool-perl");
    output_of("exiftool -q -b -Exif " + quoted(folder / "a.jpg") + " > " + quoted(folder / "a.exif"),
              "libimage-exiftool-perl");
    const std::string both =
        avif(folder, "a.jpg", "--irot 1 --ignore-xmp --exif " + quoted(folder / "a.exif"));
    CHECK(read_metadata(both).maker == "Ferrow");
    CHECK(read_metadata(both).orientation == 8);
    // Where a converter copied the Exif data and left the container without a turn, Exif's is all there is.
    const std::string exif_only = heic(folder, "a.jpg");
    CHECK(read_metadata(exif_only).orientation == 8);
    CHECK(stored_size(exif_only) == cv::Size(width, height));
}

TEST_CASE("The clean aperture is the stored picture", "[photo][heif]") {
    const ScratchFolder folder;
    draw(folder / "a.png");
    const std::string bytes = avif(folder, "a.png", "--crop 10,20,200,120 --irot 3 -y 444");
    CHECK(stored_size(bytes) == cv::Size(200, 120));
    const Picture picture = decode_colour(bytes);
    CHECK(picture.whole);
    REQUIRE(picture.pixels.size() == cv::Size(200, 120));
    const int orientation = read_metadata(bytes).orientation;
    CHECK(orientation == 6);
    check_same(turned(folder, picture.pixels, orientation), as_heif_convert_shows(folder, "made.avif"));
}

TEST_CASE("Ten bits, one channel and transparency come out as 8-bit pixels on white", "[photo][heif]") {
    const ScratchFolder folder;
    // heif-convert shows neither ten bits nor grey as 8-bit PNG.
    const auto as_avifdec_shows = [&](int how) {
        output_of("avifdec -d 8 " + quoted(folder / "made.avif") + " " + quoted(folder / "shown.png"),
                  "libavif-bin");
        return cv::imread((folder / "shown.png").string(), how);
    };
    draw(folder / "a.png", "-depth 16 -define png:bit-depth=16");
    const Picture ten_bits = decode_colour(avif(folder, "a.png", "-d 10 -y 444"));
    check_same(ten_bits.pixels, as_avifdec_shows(cv::IMREAD_COLOR));
    draw(folder / "grey.png", "-colorspace Gray");
    const Picture grey = decode_grey(avif(folder, "grey.png", "-y 400"));
    check_same(grey.pixels, as_avifdec_shows(cv::IMREAD_GRAYSCALE));
    draw(folder / "clear.png", "-transparent white");
    const Picture clear = decode_colour(avif(folder, "clear.png", ""));
    REQUIRE(clear.pixels.type() == CV_8UC3);
    CHECK(cv::norm(clear.pixels.at<cv::Vec3b>(25, 50), cv::Vec3b(255, 255, 255), cv::NORM_INF) <= 6);
}

TEST_CASE("Camera data are read from HEIC as exiftool wrote them", "[photo][heif]") {
    const ScratchFolder folder;
    draw(folder / "a.jpg");
    output_of(
        "exiftool -q -overwrite_original -Make=Ferrow -Model=FV-20 -SerialNumber=A10442 "
        "'-DateTimeOriginal=2026:03:20 08:58:15' -SubSecTimeOriginal=83 -OffsetTimeOriginal=+01:00 "
        "-FocalLength=35 " +
            quoted(folder / "a.jpg"),
        "libimage-exiftool-perl");
    const auto metadata = read_metadata(heic(folder, "a.jpg"));
    CHECK(metadata.fault.empty());
    CHECK(metadata.maker == "Ferrow");
    CHECK(metadata.model == "FV-20");
    CHECK(metadata.serial == "A10442");
    CHECK(metadata.time == "2026-03-20T08:58:15.83");
    CHECK(metadata.utc_offset == "+01:00");
    CHECK(metadata.focal_length_mm == 35.0);
}

TEST_CASE("A print copy of a HEIC keeps the colour profile", "[photo][heif]") {
    const ScratchFolder folder;
    const std::string profile = bytes_of("/usr/share/color/icc/sRGB.icc", "icc-profiles-free");
    draw(folder / "a.png", "-profile /usr/share/color/icc/sRGB.icc");
    const std::string bytes = heic(folder, "a.png");
    CHECK(stripbook::photo::colour_profile_of(bytes, false) == profile);
    const auto copy = stripbook::photo::make_print_copy(bytes, 200);
    CHECK(copy.fault.empty());
    CHECK(copy.width_px == 200);
    CHECK(stripbook::photo::colour_profile_of(copy.jpeg, false) == profile);
}

TEST_CASE("A HEIC cut short or with a flipped bit is a fault or a picture, never a crash", "[photo][heif]") {
    const ScratchFolder folder;
    draw(folder / "a.png");
    const std::string bytes = heic(folder, "a.png");
    for (std::size_t length = 0; length < bytes.size(); length += 1 + bytes.size() / 200) {
        const Picture picture = decode_grey(std::string_view(bytes).substr(0, length));
        CHECK_FALSE(picture.whole);
        CHECK_FALSE(picture.fault.empty());
        read_metadata(std::string_view(bytes).substr(0, length));
    }
    cv::RNG dice(11);
    for (int i = 0; i < 300; ++i) {
        std::string flipped = bytes;
        // Half of them in the boxes before the picture's data.
        const int end = i % 2 == 0 ? 700 : static_cast<int>(bytes.size());
        flipped[static_cast<std::size_t>(dice.uniform(0, end))] ^= static_cast<char>(1 << dice.uniform(0, 8));
        const Picture picture = decode_colour(flipped);
        CHECK(picture.whole == picture.fault.empty());
        CHECK((picture.pixels.empty() || picture.pixels.size() == picture.stored));
        read_metadata(flipped);
    }
}

TEST_CASE("A HEIC that says it is enormous is refused by its head", "[photo][heif]") {
    const ScratchFolder folder;
    draw(folder / "a.png");
    std::string bytes = heic(folder, "a.png");
    const std::string enormous("\0\1\0\0\0\1\0\0", 8);  // 65536 x 65536
    auto ispe = bytes.find("ispe");
    REQUIRE(ispe != std::string::npos);
    for (; ispe != std::string::npos; ispe = bytes.find("ispe", ispe + 1)) {
        bytes.replace(ispe + 8, 8, enormous);
    }
    const Picture picture = decode_grey(bytes);
    CHECK(picture.fault == "65536 x 65536 pixels: too large, this program reads up to 160 million");
}
