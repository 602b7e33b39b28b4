#include "photo/picture.h"

#include <fmt/format.h>
#include <sys/resource.h>

#include <catch2/catch.hpp>
#include <chrono>
#include <cmath>
#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "outside_tool.h"
#include "photo/metadata.h"
#include "photo/picture_head.h"
#include "photo/worker_pool.h"
#include "scratch_folder.h"

using stripbook::photo::decode_colour;
using stripbook::photo::decode_grey;
using stripbook::photo::FileFormat;
using stripbook::photo::format_of;
using stripbook::photo::Picture;
using stripbook::photo::stored_size;
using namespace stripbook::test;

namespace {

constexpr const char* partly = "cut short or damaged: only a part of the picture can be read";
constexpr const char* nothing = "cut short or damaged: nothing of the picture can be read";

std::string encoded(const cv::Mat& pixels, const std::string& ending, const std::vector<int>& options = {}) {
    std::vector<unsigned char> bytes;
    REQUIRE(cv::imencode(ending, pixels, bytes, options));
    return {bytes.begin(), bytes.end()};
}

// A photo-like picture: colour gradients and a little noise, the same every time.
cv::Mat scene(int width, int height) {
    cv::Mat pixels(height, width, CV_8UC3);
    cv::RNG noise(7);
    for (int y = 0; y < height; ++y) {
        for (int x = 0; x < width; ++x) {
            const auto level = [&](double value) {
                return cv::saturate_cast<unsigned char>(value + noise.uniform(-4, 4));
            };
            pixels.at<cv::Vec3b>(y, x) = {level(255.0 * x / width), level(255.0 * y / height),
                                          level(128 + 100 * std::sin(x * 0.05) * std::cos(y * 0.03))};
        }
    }
    return pixels;
}

// A black disc on white, each pixel's grey the part of it that the disc leaves free (32 x 32 samples a
// pixel).
cv::Mat disc(int width, int height, cv::Point2d centre, double radius) {
    constexpr int samples = 32;
    cv::Mat pixels(height, width, CV_8UC1);
    for (int y = 0; y < height; ++y) {
        for (int x = 0; x < width; ++x) {
            int free = 0;
            for (int row = 0; row < samples; ++row) {
                for (int column = 0; column < samples; ++column) {
                    const double dx = x - 0.5 + (column + 0.5) / samples - centre.x;
                    const double dy = y - 0.5 + (row + 0.5) / samples - centre.y;
                    free += dx * dx + dy * dy > radius * radius ? 1 : 0;
                }
            }
            pixels.at<unsigned char>(y, x) = static_cast<unsigned char>(255 * free / (samples * samples));
        }
    }
    return pixels;
}

cv::Point2d centroid_of_dark(const cv::Mat& grey) {
    cv::Mat dark = 255 - grey;
    dark.setTo(0, dark < 16);  // ringing of the compression in the white
    const cv::Moments moments = cv::moments(dark);
    return {moments.m10 / moments.m00, moments.m01 / moments.m00};
}

std::string text_of_size(std::uint32_t width, std::uint32_t height) {
    std::string bytes;
    for (const std::uint32_t number : {width, height}) {
        for (const unsigned shift : {24U, 16U, 8U, 0U}) {
            bytes += static_cast<char>(number >> shift & 0xFFU);
        }
    }
    return bytes;
}

std::string little(std::uint32_t number, int length) {
    std::string bytes;
    for (int i = 0; i < length; ++i) {
        bytes += static_cast<char>(number >> static_cast<unsigned>(8 * i) & 0xFFU);
    }
    return bytes;
}

// TIFF 6.0, one uncompressed strip, with the directory before the pixels so that cutting leaves the head
// whole.
std::string tiff_with_the_head_first(int width, int height, std::uint32_t subfile = 0) {
    const auto bytes = static_cast<std::uint32_t>(width * height * 3);
    const std::uint32_t entries[][3] = {{254, 4, subfile},
                                        {256, 4, static_cast<std::uint32_t>(width)},
                                        {257, 4, static_cast<std::uint32_t>(height)},
                                        {258, 3, 8},
                                        {259, 3, 1},
                                        {262, 3, 2},
                                        {273, 4, 200},
                                        {277, 3, 3},
                                        {278, 4, static_cast<std::uint32_t>(height)},
                                        {279, 4, bytes}};
    std::string tiff = std::string("II*\0", 4) + little(8, 4) + little(std::size(entries), 2);
    for (const auto& [tag, type, value] : entries) {
        const bool bits = tag == 258;  // three numbers, which lie behind the directory
        tiff += little(tag, 2) + little(type, 2) + little(bits ? 3 : 1, 4) + little(bits ? 180 : value, 4);
    }
    tiff.resize(180);
    tiff += little(8, 2) + little(8, 2) + little(8, 2);
    tiff.resize(200);
    return tiff + std::string(bytes, '\x40');
}

long peak_memory_kib() {
    rusage usage{};
    getrusage(RUSAGE_SELF, &usage);
    return usage.ru_maxrss;
}

}  // namespace

TEST_CASE("A file is what its first bytes say", "[photo][picture]") {
    const cv::Mat pixels = scene(32, 24);
    CHECK(format_of(encoded(pixels, ".jpg")) == FileFormat::jpeg);
    CHECK(format_of(encoded(pixels, ".png")) == FileFormat::png);
    CHECK(format_of(encoded(pixels, ".tiff")) == FileFormat::tiff);

    CHECK(format_of(std::string("MM\0*\0\0\0\x08", 8)) == FileFormat::tiff);
    CHECK(format_of("GIF89a") == FileFormat::unknown);
    CHECK(format_of("") == FileFormat::unknown);
    CHECK(format_of("\xFF") == FileFormat::unknown);
}

TEST_CASE("The size stands in the head of every format", "[photo][picture]") {
    const cv::Mat pixels = scene(301, 207);
    for (const char* ending : {".jpg", ".png", ".tiff"}) {
        CHECK(stored_size(encoded(pixels, ending)) == cv::Size(301, 207));
    }
    CHECK(stored_size(tiff_with_the_head_first(301, 207)) == cv::Size(301, 207));
    CHECK(stored_size("not a picture").empty());
    CHECK(stored_size(encoded(pixels, ".png").substr(0, 20)).empty());
    CHECK(stored_size(encoded(pixels, ".jpg").substr(0, 100)).empty());
}

TEST_CASE("However little there is of a file, its head is read without a stumble", "[photo][picture]") {
    for (const char* ending : {".jpg", ".png", ".tiff"}) {
        const std::string bytes = encoded(scene(32, 24), ending);
        for (std::size_t length = 0; length < 700; ++length) {
            INFO(ending << " " << length);
            const std::string start =
                bytes.substr(0, length);  // its own memory, so that a step beyond is seen
            const cv::Size size = stored_size(start);
            CHECK((size.empty() || size == cv::Size(32, 24)));
            CHECK_NOTHROW(stripbook::photo::read_metadata(start));
        }
    }
}

TEST_CASE("The size is what exiv2 reads, for cameras' files with thumbnails inside", "[photo][picture]") {
    for (const char* name :
         {"sample1.jpg", "samples/f1-exif.jpg", "samples/f6-exif.jpg", "samples/has-lens-info.jpg"}) {
        const auto path = exif_samples() / name;
        const std::string summary = output_of("exiv2 pr " + quoted(path), "exiv2");
        const cv::Size size = stored_size(bytes_of(path, exif_samples_package));
        INFO(summary);
        CHECK(summary.find(fmt::format(": {} x {}\n", size.width, size.height)) != std::string::npos);
    }
}

TEST_CASE("An empty file and a text file are told from pictures in plain words", "[photo][picture]") {
    for (const auto& decode : {+[](std::string_view bytes) { return decode_grey(bytes); },
                               +[](std::string_view bytes) { return decode_colour(bytes, 100); }}) {
        const Picture empty = decode("");
        CHECK_FALSE(empty.whole);
        CHECK(empty.fault == "empty file");
        CHECK(empty.pixels.empty());
        const Picture text = decode("Brake rigging, drawn 1931.\n");
        CHECK_FALSE(text.whole);
        CHECK(text.fault ==
              "not a picture this program reads (JPEG, HEIC, PNG, TIFF and cameras' raw files are)");
        CHECK(text.pixels.empty());
    }
}

TEST_CASE("A picture of 60000 x 60000 is refused by its head, at once and without memory",
          "[photo][picture]") {
    const std::string jpeg =
        std::string("\xFF\xD8\xFF\xC0\x00\x11\x08\xEA\x60\xEA\x60\x03", 12) + std::string(3000, 'x');
    const std::string png = std::string("\x89PNG\r\n\x1A\n\0\0\0\rIHDR", 16) + text_of_size(60000, 60000) +
                            std::string("\x08\x02\0\0\0", 5) + std::string(3000, 'x');
    std::string tiff = tiff_with_the_head_first(10, 10);
    tiff.replace(8 + 2 + 12 + 8, 4, little(60000, 4));
    tiff.replace(8 + 2 + 24 + 8, 4, little(60000, 4));
    for (const std::string& bytes : {jpeg, png, tiff}) {
        const long memory_before = peak_memory_kib();
        const auto start = std::chrono::steady_clock::now();
        const Picture picture = decode_grey(bytes);
        CHECK(std::chrono::steady_clock::now() - start < std::chrono::milliseconds(100));
        CHECK(peak_memory_kib() - memory_before < 8192);
        CHECK_FALSE(picture.whole);
        CHECK(picture.pixels.empty());
        CHECK(picture.stored == cv::Size(60000, 60000));
        CHECK(picture.fault == "60000 x 60000 pixels: too large, this program reads up to 160 million");
    }
}

TEST_CASE("Sizes that overflow are no sizes", "[photo][picture]") {
    const auto png = [](std::uint32_t width, std::uint32_t height) {
        return std::string("\x89PNG\r\n\x1A\n\0\0\0\rIHDR", 16) + text_of_size(width, height) +
               std::string(20, '\0');
    };
    CHECK(stored_size(png(0x80000000U, 1)).empty());
    CHECK(stored_size(png(0, 100)).empty());
    CHECK(stored_size(png(0x7FFFFFFFU, 0x7FFFFFFFU)) == cv::Size(0x7FFFFFFF, 0x7FFFFFFF));
    CHECK(decode_colour(png(0x7FFFFFFFU, 0x7FFFFFFFU)).fault.find("too large") != std::string::npos);
}

TEST_CASE("Grey and colour decode to what djpeg makes of them", "[photo][picture]") {
    const ScratchFolder folder;
    const cv::Mat pixels = scene(203, 151);
    const auto path = folder / "photo.jpg";
    struct Kind {
        const char* name;
        std::string bytes;
    };
    const std::vector<Kind> kinds = {
        {"baseline", encoded(pixels, ".jpg")},
        {"progressive", encoded(pixels, ".jpg", {cv::IMWRITE_JPEG_PROGRESSIVE, 1})},
        {"restart markers", encoded(pixels, ".jpg", {cv::IMWRITE_JPEG_RST_INTERVAL, 3})},
    };
    for (const Kind& kind : kinds) {
        INFO(kind.name);
        write_file(path, kind.bytes);
        for (const char* mode : {"", "-grayscale"}) {
            const std::string pnm =
                output_of(fmt::format("djpeg {} -pnm {}", mode, quoted(path)), "libjpeg-turbo-progs");
            const cv::Mat raw(1, static_cast<int>(pnm.size()), CV_8UC1, const_cast<char*>(pnm.data()));
            const cv::Mat expected = cv::imdecode(raw, cv::IMREAD_UNCHANGED);
            const Picture picture = *mode == 0 ? decode_colour(kind.bytes) : decode_grey(kind.bytes);
            CHECK(picture.whole);
            CHECK(picture.scale == 1);
            CHECK(picture.stored == pixels.size());
            REQUIRE(picture.pixels.type() == expected.type());
            CHECK(cv::norm(picture.pixels, expected, cv::NORM_INF) == 0);
        }
    }
}

TEST_CASE("A grey JPEG decodes to grey and to three equal channels", "[photo][picture]") {
    cv::Mat grey;
    cv::extractChannel(scene(120, 80), grey, 2);
    const std::string bytes = encoded(grey, ".jpg", {cv::IMWRITE_JPEG_QUALITY, 100});
    CHECK(stripbook::photo::read_picture_head(bytes).grey);
    const Picture as_grey = decode_grey(bytes);
    const Picture as_colour = decode_colour(bytes);
    CHECK(cv::norm(as_grey.pixels, grey, cv::NORM_INF) <= 2);
    REQUIRE(as_colour.pixels.type() == CV_8UC3);
    for (int channel = 0; channel < 3; ++channel) {
        cv::Mat one;
        cv::extractChannel(as_colour.pixels, one, channel);
        CHECK(cv::norm(one, as_grey.pixels, cv::NORM_INF) == 0);
    }
}

TEST_CASE("Inks (CMYK and YCCK) come out in the colours ImageMagick shows", "[photo][picture]") {
    const ScratchFolder folder;
    const auto path = folder / "inks.jpg";
    const auto shown = folder / "shown.png";
    output_of(
        "convert-im6.q16 -size 96x64 gradient:orange-navy -colorspace CMYK -sampling-factor 1x1 -quality "
        "98 " +
            quoted(path),
        "imagemagick");
    output_of("convert-im6.q16 " + quoted(path) + " -colorspace sRGB -depth 8 " + quoted(shown),
              "imagemagick");
    const std::string bytes = bytes_of(path);
    REQUIRE(output_of("exiftool -s3 -ColorComponents " + quoted(path), "libimage-exiftool-perl") == "4\n");
    const Picture picture = decode_colour(bytes);
    CHECK(picture.whole);
    CHECK(cv::norm(picture.pixels, cv::imread(shown.string()), cv::NORM_INF) <= 3);
    CHECK(decode_grey(bytes).pixels.type() == CV_8UC1);
}

TEST_CASE("A JPEG cut short gives what there is, and says so", "[photo][picture]") {
    const cv::Mat pixels = scene(400, 300);
    for (const int progressive : {0, 1}) {
        const std::string bytes = encoded(pixels, ".jpg", {cv::IMWRITE_JPEG_PROGRESSIVE, progressive});
        const Picture whole = decode_colour(bytes);
        const Picture cut = decode_colour(std::string_view(bytes).substr(0, bytes.size() * 6 / 10));
        CHECK_FALSE(cut.whole);
        CHECK(cut.fault == partly);
        CHECK(cut.stored == pixels.size());
        REQUIRE(cut.pixels.size() == pixels.size());
        if (progressive == 0) {
            const cv::Rect upper(0, 0, 400, 150);
            CHECK(cv::norm(cut.pixels(upper), whole.pixels(upper), cv::NORM_INF) == 0);
        } else {
            CHECK(cv::norm(cut.pixels, whole.pixels, cv::NORM_L1) / static_cast<double>(pixels.total() * 3) <
                  15);
        }
    }
    const std::string bytes = encoded(pixels, ".jpg");
    CHECK_FALSE(decode_grey(std::string_view(bytes).substr(0, bytes.size() - 2))
                    .whole);  // only the end marker is missing
    const Picture head_only = decode_grey(std::string_view(bytes).substr(0, 50));
    CHECK_FALSE(head_only.whole);
    CHECK(head_only.fault == nothing);
}

TEST_CASE("Bytes behind the end of a JPEG are nobody's business", "[photo][picture]") {
    const std::string bytes = encoded(scene(200, 100), ".jpg");
    const Picture picture = decode_colour(bytes + bytes + std::string(1000, '\xFF') + "preview");
    CHECK(picture.whole);
    CHECK(picture.fault.empty());
    CHECK(cv::norm(picture.pixels, decode_colour(bytes).pixels, cv::NORM_INF) == 0);
}

TEST_CASE("A flipped bit anywhere in a file crashes nothing", "[photo][picture]") {
    cv::RNG random(11);
    std::vector<std::string> damaged;
    for (const char* ending : {".jpg", ".png", ".tiff"}) {
        const std::string bytes = encoded(scene(64, 48), ending);
        for (int turn = 0; turn < 300; ++turn) {
            const auto place = static_cast<std::size_t>(random.uniform(0, static_cast<int>(bytes.size())));
            damaged.push_back(bytes);
            damaged.back()[place] = static_cast<char>(bytes[place] ^ 1 << random.uniform(0, 8));
        }
    }
    const auto work = [](const std::string& bytes) {
        const Picture picture = decode_colour(bytes, 32);
        const bool consistent =
            picture.whole == picture.fault.empty() && (!picture.whole || !picture.pixels.empty());
        return std::string(!consistent ? "inconsistent" : picture.whole ? "whole" : "not whole");
    };
    int not_whole = 0;
    stripbook::photo::run_in_workers(work, damaged, {2, 60, 1500},
                                     [&](std::size_t index, const auto& outcome) {
                                         INFO("file " << index << ": " << outcome.note);
                                         CHECK(outcome.end == stripbook::photo::Outcome::End::done);
                                         CHECK(outcome.bytes != "inconsistent");
                                         not_whole += outcome.bytes == "not whole" ? 1 : 0;
                                     });
    CHECK(not_whole > 300);  // the PNGs at least, which carry checksums
}

TEST_CASE("A PNG or a TIFF cut short is not whole", "[photo][picture]") {
    const std::string png = encoded(scene(120, 90), ".png");
    const std::string tiff = tiff_with_the_head_first(120, 90);
    REQUIRE(decode_colour(png).whole);
    REQUIRE(decode_colour(tiff).whole);
    for (const std::string& bytes : {png, tiff, encoded(scene(120, 90), ".tiff")}) {
        for (const double part : {0.99, 0.7, 0.4, 0.05}) {
            const auto length = static_cast<std::size_t>(part * static_cast<double>(bytes.size()));
            const Picture picture = decode_grey(std::string_view(bytes).substr(0, length));
            CHECK_FALSE(picture.whole);
            CHECK_FALSE(picture.fault.empty());
        }
    }
}

TEST_CASE("A camera's raw file, whose first picture is a thumbnail, is refused in plain words",
          "[photo][picture]") {
    const Picture picture = decode_colour(tiff_with_the_head_first(160, 120, 1));
    CHECK_FALSE(picture.whole);
    CHECK(picture.pixels.empty());
    CHECK(picture.fault ==
          "a camera's raw file without a preview that can be read (save it as JPEG or TIFF)");
}

TEST_CASE("A progressive JPEG of endless scans is given up", "[photo][picture]") {
    // One scan of an all-grey progressive picture, said over and over: each costs a pass over the whole
    // picture.
    const std::string bytes =
        encoded(cv::Mat(512, 512, CV_8UC1, cv::Scalar(128)), ".jpg", {cv::IMWRITE_JPEG_PROGRESSIVE, 1});
    const auto last_scan = bytes.rfind("\xFF\xDA");
    REQUIRE(last_scan != std::string::npos);
    const std::string scan = bytes.substr(last_scan, bytes.size() - 2 - last_scan);
    std::string bomb = bytes.substr(0, bytes.size() - 2);
    for (int i = 0; i < 20000; ++i) {
        bomb += scan;
    }
    const auto start = std::chrono::steady_clock::now();
    const Picture picture = decode_grey(bomb + "\xFF\xD9");
    CHECK_FALSE(picture.whole);
    CHECK(std::chrono::steady_clock::now() - start < std::chrono::seconds(10));
}

TEST_CASE("The stored grid is not turned by the camera's orientation", "[photo][picture]") {
    // 80 x 40 stored, orientation 6: upright it would be 40 x 80.
    const std::string jpeg = bytes_of(exif_samples() / "samples/f6-exif.jpg", exif_samples_package);
    CHECK(decode_grey(jpeg).pixels.size() == cv::Size(80, 40));
    CHECK(decode_colour(jpeg).pixels.size() == cv::Size(80, 40));
    const ScratchFolder folder;
    for (const char* ending : {".png", ".tiff"}) {
        const auto path = folder / (std::string("turned") + ending);
        write_file(path, encoded(scene(80, 40), ending));
        output_of("exiftool -q -overwrite_original -n -Orientation=6 " + quoted(path),
                  "libimage-exiftool-perl");
        const std::string turned = bytes_of(path);
        REQUIRE(output_of("exiftool -n -s3 -Orientation " + quoted(path), "libimage-exiftool-perl") == "6\n");
        CHECK(decode_grey(turned).pixels.size() == cv::Size(80, 40));
        CHECK(cv::norm(decode_colour(turned).pixels, scene(80, 40), cv::NORM_INF) == 0);
    }
}

TEST_CASE("Whole numbers are pixel centres", "[photo][picture]") {
    const cv::Point2d centre(130.3, 85.8);
    const cv::Mat drawn = disc(240, 180, centre, 40);
    cv::Mat colour;
    cv::cvtColor(drawn, colour, cv::COLOR_GRAY2BGR);
    for (const std::string& bytes : {encoded(drawn, ".jpg"), encoded(colour, ".jpg"), encoded(colour, ".png"),
                                     encoded(colour, ".tiff")}) {
        const cv::Point2d found = centroid_of_dark(decode_grey(bytes).pixels);
        CHECK(std::abs(found.x - centre.x) < 0.05);
        CHECK(std::abs(found.y - centre.y) < 0.05);
    }
}

TEST_CASE("A reduced picture says its scale, and centres land where the header says", "[photo][picture]") {
    const cv::Point2d centre(261.3, 170.6);
    const cv::Mat drawn = disc(483, 357, centre, 90);  // no multiple of eight, so sizes are rounded
    cv::Mat colour;
    cv::cvtColor(drawn, colour, cv::COLOR_GRAY2BGR);
    const std::string bytes = encoded(colour, ".jpg", {cv::IMWRITE_JPEG_QUALITY, 95});
    // Long side asked for, the eighths and the size expected: ceil(483 n / 8) x ceil(357 n / 8).
    const int expected[][4] = {{1, 1, 61, 45},     {61, 1, 61, 45},     {62, 2, 121, 90},
                               {121, 2, 121, 90},  {122, 3, 182, 134},  {240, 4, 242, 179},
                               {243, 5, 302, 224}, {303, 6, 363, 268},  {420, 7, 423, 313},
                               {424, 8, 483, 357}, {5000, 8, 483, 357}, {0, 8, 483, 357}};
    for (const auto& [asked, eighths, width, height] : expected) {
        INFO("asked for " << asked);
        const Picture picture = decode_colour(bytes, asked);
        CHECK(picture.whole);
        CHECK(picture.stored == cv::Size(483, 357));
        REQUIRE(picture.pixels.size() == cv::Size(width, height));
        REQUIRE(picture.scale == eighths / 8.0);
        cv::Mat grey;
        cv::cvtColor(picture.pixels, grey, cv::COLOR_BGR2GRAY);
        const cv::Point2d found = centroid_of_dark(grey);
        CHECK(std::abs(found.x - ((centre.x + 0.5) * picture.scale - 0.5)) < 0.05);
        CHECK(std::abs(found.y - ((centre.y + 0.5) * picture.scale - 0.5)) < 0.05);
    }
}
