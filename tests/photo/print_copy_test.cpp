#include "photo/print_copy.h"

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "errors.h"
#include "outside_tool.h"
#include "photo/picture.h"
#include "scratch_folder.h"

using stripbook::photo::make_print_copy;
using stripbook::photo::print_copy_from_bytes;
using stripbook::photo::PrintCopy;
using namespace stripbook::test;

namespace {

const std::string rgb_profile = "/usr/share/color/icc/sRGB.icc";
const std::string grey_profile = "/usr/share/color/icc/Gray.icc";
const std::string profiles_package = "icc-profiles-free";

cv::Mat scene(int width, int height) {
    cv::Mat pixels(height, width, CV_8UC3);
    cv::RNG noise(3);
    for (int y = 0; y < height; ++y) {
        for (int x = 0; x < width; ++x) {
            const auto level = [&](double value) {
                return cv::saturate_cast<unsigned char>(value + noise.uniform(-6, 6));
            };
            pixels.at<cv::Vec3b>(y, x) = {level(240.0 * x / width), level(240.0 * y / height),
                                          level(128 + 90 * std::sin(x * 0.05) * std::cos(y * 0.03))};
        }
    }
    return pixels;
}

std::string encoded(const cv::Mat& pixels, const std::string& ending, const std::vector<int>& options = {}) {
    std::vector<unsigned char> bytes;
    REQUIRE(cv::imencode(ending, pixels, bytes, options));
    return {bytes.begin(), bytes.end()};
}

cv::Mat decoded(const std::string& bytes) {
    const cv::Mat raw(1, static_cast<int>(bytes.size()), CV_8UC1, const_cast<char*>(bytes.data()));
    return cv::imdecode(raw, cv::IMREAD_COLOR | cv::IMREAD_IGNORE_ORIENTATION);
}

// The picture with everything a camera, a program and a person may leave in it.
std::string with_everything_in_it(const std::string& bytes, const std::string& ending,
                                  const std::string& profile) {
    const ScratchFolder folder;
    const auto path = folder / ("photo" + ending);
    const auto thumbnail = folder / "thumbnail.jpg";
    write_file(path, bytes);
    write_file(thumbnail, encoded(scene(32, 24), ".jpg"));
    output_of(fmt::format(
                  "exiftool -q -overwrite_original -Make='Petrel Works' -GPSLatitude=52.1 -GPSLatitudeRef=N "
                  "-GPSLongitude=11.2 -GPSLongitudeRef=E -SerialNumber=PW0042 -DateTimeOriginal='2026:03:20 "
                  "08:58:15' "
                  "-XMP-dc:Creator=somebody -IPTC:City=somewhere -Comment=secret '-ICC_Profile<={}' {}",
                  profile, quoted(path)),
              "libimage-exiftool-perl");
    if (ending == ".jpg") {
        output_of(fmt::format("exiftool -q -overwrite_original '-ThumbnailImage<={}' {}", thumbnail.string(),
                              quoted(path)),
                  "libimage-exiftool-perl");
    }
    return bytes_of(path);
}

// Only the picture's own description may be left: every group of exiftool that holds what somebody wrote is
// looked for.
void check_nothing_but_picture_and_profile(const std::string& jpeg, const std::string& profile_path) {
    const ScratchFolder folder;
    const auto path = folder / "copy.jpg";
    write_file(path, jpeg);
    const std::string groups =
        output_of("exiftool -a -u -U -G1 -s " + quoted(path), "libimage-exiftool-perl");
    INFO(groups);
    for (const char* group :
         {"[IFD0]", "[IFD1]", "[ExifIFD]", "[GPS]", "[XMP", "[IPTC]", "[Photoshop]", "[MakerNotes]", "[MPF0]",
          "Comment", "Thumbnail", "secret", "somebody", "somewhere", "Petrel"}) {
        const std::string::size_type found = groups.find(group);
        const bool is_jfif = std::string(group) == "Thumbnail" && found != std::string::npos &&
                             groups.rfind("[JFIF]", found) > groups.rfind('\n', found);
        INFO(group);
        CHECK((found == std::string::npos || is_jfif));
    }
    CHECK(groups.find("Warning") == std::string::npos);
    for (const char* kind :
         {"-PE", "-PI", "-PX", "-pc"}) {  // Exif, IPTC, XMP, comment; 1 means that there is none
        const std::string printed =
            output_of(fmt::format("exiv2 {} {} || test $? -le 1", kind, quoted(path)), "exiv2");
        INFO(kind << " " << printed);
        CHECK(printed.find_first_not_of('\n') == std::string::npos);
    }
    const std::string profile =
        output_of("exiftool -b -ICC_Profile " + quoted(path), "libimage-exiftool-perl");
    CHECK(profile == (profile_path.empty() ? "" : bytes_of(profile_path, profiles_package)));
}

// Sampled by an independent way: how far two pictures of the same thing are apart, in grey levels.
double mean_difference(const cv::Mat& a, const cv::Mat& b) {
    REQUIRE(a.size() == b.size());
    REQUIRE(a.type() == b.type());
    return cv::norm(a, b, cv::NORM_L1) /
           static_cast<double>(a.total() * static_cast<std::size_t>(a.channels()));
}

}  // namespace

TEST_CASE("A small JPEG keeps its pixels and its profile and loses all else", "[photo][print_copy]") {
    const cv::Mat pixels = scene(403, 301);
    cv::Mat grey;
    cv::cvtColor(pixels, grey, cv::COLOR_BGR2GRAY);
    const std::pair<std::string, std::string> originals[] = {
        {encoded(pixels, ".jpg", {cv::IMWRITE_JPEG_QUALITY, 90}), rgb_profile},
        {encoded(pixels, ".jpg", {cv::IMWRITE_JPEG_PROGRESSIVE, 1}), rgb_profile},
        {encoded(pixels, ".jpg", {cv::IMWRITE_JPEG_RST_INTERVAL, 4}), rgb_profile},
        {encoded(grey, ".jpg"), grey_profile},
    };
    for (const auto& [plain, profile] : originals) {
        const std::string original = with_everything_in_it(plain, ".jpg", profile);
        REQUIRE(original.find("somebody") != std::string::npos);
        const PrintCopy copy = make_print_copy(original, 400);
        CHECK_FALSE(copy.recompressed);
        CHECK(copy.fault.empty());
        CHECK(copy.width_px == 403);
        CHECK(copy.height_px == 301);
        CHECK(copy.jpeg.size() < original.size());
        CHECK(cv::norm(decoded(copy.jpeg), decoded(original), cv::NORM_INF) == 0);
        check_nothing_but_picture_and_profile(copy.jpeg, profile);
        CHECK(make_print_copy(original, 400).jpeg == copy.jpeg);
    }
}

TEST_CASE("Up to 1.25 times the size asked for a JPEG is kept, above it is not", "[photo][print_copy]") {
    const std::string wide = encoded(scene(500, 200), ".jpg");
    CHECK_FALSE(make_print_copy(wide, 400).recompressed);
    CHECK_FALSE(make_print_copy(wide, 5000).recompressed);
    const PrintCopy smaller = make_print_copy(wide, 399);
    CHECK(smaller.recompressed);
    CHECK(smaller.width_px == 399);
    CHECK(smaller.height_px == 160);  // 200 x 399 / 500 = 159.6
    const std::string high = encoded(scene(200, 501), ".jpg");
    const PrintCopy high_copy = make_print_copy(high, 400);
    CHECK(high_copy.recompressed);
    CHECK(high_copy.height_px == 400);
    CHECK(high_copy.width_px == 160);  // 200 x 400 / 501 = 159.7
}

TEST_CASE("A large picture is brought to the long side asked for, as ImageMagick would",
          "[photo][print_copy]") {
    const ScratchFolder folder;
    const auto path = folder / "large.png";
    const cv::Mat pixels = scene(1600, 1203);
    write_file(path, encoded(pixels, ".png"));
    // Box filter over the area of each new pixel.
    const std::string rgb = output_of(
        "convert-im6.q16 " + quoted(path) + " -filter Box -resize '500x376!' -depth 8 bgr:-", "imagemagick");
    REQUIRE(rgb.size() == std::size_t{500} * 376 * 3);
    const cv::Mat expected(376, 500, CV_8UC3, const_cast<char*>(rgb.data()));
    const std::string originals[] = {encoded(pixels, ".jpg", {cv::IMWRITE_JPEG_QUALITY, 97}),
                                     encoded(pixels, ".png"), encoded(pixels, ".tiff")};
    const std::string endings[] = {".jpg", ".png", ".tiff"};
    for (std::size_t i = 0; i < std::size(originals); ++i) {
        INFO(endings[i]);
        const std::string original = with_everything_in_it(originals[i], endings[i], rgb_profile);
        const PrintCopy copy = make_print_copy(original, 500);
        CHECK(copy.recompressed);
        CHECK(copy.fault.empty());
        CHECK(copy.width_px == 500);
        CHECK(copy.height_px == 376);
        CHECK(mean_difference(decoded(copy.jpeg), expected) < 3);  // the compression's own loss
        check_nothing_but_picture_and_profile(copy.jpeg, rgb_profile);
        CHECK(make_print_copy(original, 500).jpeg == copy.jpeg);
        write_file(folder / "copy.jpg", copy.jpeg);
        CHECK(output_of("exiftool -s3 -EncodingProcess -YCbCrSubSampling " + quoted(folder / "copy.jpg"),
                        "libimage-exiftool-perl") == "Baseline DCT, Huffman coding\nYCbCr4:2:0 (2 2)\n");
        CHECK(output_of("identify-im6.q16 -format %Q " + quoted(folder / "copy.jpg"), "imagemagick") == "88");
    }
}

TEST_CASE("Grey stays grey, with a grey profile", "[photo][print_copy]") {
    cv::Mat grey;
    cv::cvtColor(scene(800, 600), grey, cv::COLOR_BGR2GRAY);
    for (const std::string& ending : {std::string(".jpg"), std::string(".png"), std::string(".tiff")}) {
        INFO(ending);
        const std::string original = with_everything_in_it(encoded(grey, ending), ending, grey_profile);
        const PrintCopy copy = make_print_copy(original, 300);
        const cv::Mat shown =
            cv::imdecode(std::vector<char>(copy.jpeg.begin(), copy.jpeg.end()), cv::IMREAD_UNCHANGED);
        CHECK(shown.type() == CV_8UC1);
        CHECK(shown.size() == cv::Size(300, 225));
        check_nothing_but_picture_and_profile(copy.jpeg, grey_profile);
    }
}

TEST_CASE("A small PNG or TIFF is compressed but not enlarged", "[photo][print_copy]") {
    for (const char* ending : {".png", ".tiff"}) {
        const PrintCopy copy = make_print_copy(encoded(scene(200, 100), ending), 1000);
        CHECK(copy.recompressed);
        CHECK(copy.width_px == 200);
        CHECK(copy.height_px == 100);
        CHECK(mean_difference(decoded(copy.jpeg), scene(200, 100)) < 6);
    }
}

TEST_CASE("A profile of another kind of colour is left out", "[photo][print_copy]") {
    for (const int side : {100, 400}) {  // recompressed, copied
        const PrintCopy copy = make_print_copy(
            with_everything_in_it(encoded(scene(400, 300), ".jpg"), ".jpg", grey_profile), side);
        CHECK(copy.recompressed == (side == 100));
        check_nothing_but_picture_and_profile(copy.jpeg, "");
    }
}

TEST_CASE("A profile of many segments comes through byte for byte", "[photo][print_copy]") {
    // The largest there is in the package, made one for RGB by its colour space field: 3 segments of 64 KiB
    // and more.
    const ScratchFolder folder;
    std::string profile = bytes_of(rgb_profile, profiles_package);
    profile.resize(200000, 'p');
    for (int i = 0; i < 4; ++i) {
        profile[static_cast<std::size_t>(i)] =
            static_cast<char>(profile.size() >> static_cast<unsigned>(24 - 8 * i) & 0xFFU);
    }
    const std::string path = (folder / "large.icc").string();
    write_file(path, profile);
    const PrintCopy copy =
        make_print_copy(with_everything_in_it(encoded(scene(400, 300), ".jpg"), ".jpg", path), 400);
    write_file(folder / "copy.jpg", copy.jpeg);
    CHECK(output_of("exiftool -b -ICC_Profile " + quoted(folder / "copy.jpg"), "libimage-exiftool-perl") ==
          profile);
}

TEST_CASE("A profile too large for a JPEG is left out", "[photo][print_copy]") {
    const ScratchFolder folder;
    std::string profile = bytes_of(rgb_profile, profiles_package);
    profile.resize(std::size_t{20} << 20U, 'p');
    for (std::size_t i = 0; i < 4; ++i) {
        profile[i] = static_cast<char>(profile.size() >> (24 - 8 * i) & 0xFFU);
    }
    const std::string path = (folder / "huge.icc").string();
    write_file(path, profile);
    const PrintCopy copy =
        make_print_copy(with_everything_in_it(encoded(scene(40, 30), ".tiff"), ".tiff", path), 40);
    CHECK(copy.fault.empty());
    check_nothing_but_picture_and_profile(copy.jpeg, "");
}

TEST_CASE("Inks and RGB-coded JPEGs become YCbCr", "[photo][print_copy]") {
    const ScratchFolder folder;
    const auto path = folder / "original.jpg";
    const auto copy_path = folder / "copy.jpg";
    const auto shown = folder / "shown.png";
    for (const char* options : {"-colorspace CMYK", "-set colorspace sRGB -define jpeg:colorspace=RGB"}) {
        INFO(options);
        output_of(
            fmt::format(
                "convert-im6.q16 -size 96x64 gradient:orange-navy {} -sampling-factor 1x1 -quality 98 {}",
                options, quoted(path)),
            "imagemagick");
        output_of("convert-im6.q16 " + quoted(path) + " -colorspace sRGB -depth 8 " + quoted(shown),
                  "imagemagick");
        const PrintCopy copy = make_print_copy(bytes_of(path), 96);
        CHECK(copy.fault.empty());
        CHECK(mean_difference(decoded(copy.jpeg), cv::imread(shown.string())) < 4);
        write_file(copy_path, copy.jpeg);
        CHECK(output_of("exiftool -s3 -ColorComponents " + quoted(copy_path), "libimage-exiftool-perl") ==
              "3\n");
        CHECK(output_of("exiftool -s3 -Adobe:ColorTransform " + quoted(copy_path), "libimage-exiftool-perl")
                  .empty());
    }
}

TEST_CASE("A photo cut short gives a copy of what there is, and says so", "[photo][print_copy]") {
    const std::string original = encoded(scene(400, 300), ".jpg");
    const std::string cut = original.substr(0, original.size() / 2);
    for (const int side : {100, 400}) {
        const PrintCopy copy = make_print_copy(cut, side);
        CHECK(copy.fault == "cut short or damaged: only a part of the picture can be read");
        CHECK(copy.width_px == side);
        const cv::Mat shown = decoded(copy.jpeg);
        REQUIRE(shown.size() == cv::Size(side, side * 3 / 4));
        cv::Mat whole;
        cv::resize(decoded(original), whole, shown.size(), 0, 0, cv::INTER_AREA);
        const cv::Rect upper(0, 0, side, side / 4);
        CHECK(mean_difference(shown(upper).clone(), whole(upper).clone()) < 3);
    }
}

TEST_CASE("What does not decode gives no copy but a fault", "[photo][print_copy]") {
    for (const std::string& bytes :
         {std::string(), std::string("text"), encoded(scene(40, 30), ".jpg").substr(0, 60),
          encoded(scene(40, 30), ".png").substr(0, 200)}) {
        const PrintCopy copy = make_print_copy(bytes, 100);
        CHECK(copy.jpeg.empty());
        CHECK_FALSE(copy.fault.empty());
        CHECK(copy.width_px == 0);
    }
}

TEST_CASE("A flipped bit anywhere gives a copy or a fault", "[photo][print_copy]") {
    cv::RNG random(23);
    const std::string original = with_everything_in_it(
        encoded(scene(64, 48), ".jpg", {cv::IMWRITE_JPEG_PROGRESSIVE, 1}), ".jpg", rgb_profile);
    for (int turn = 0; turn < 1000; ++turn) {
        std::string damaged = original;
        const auto place = static_cast<std::size_t>(random.uniform(2, static_cast<int>(original.size())));
        damaged[place] = static_cast<char>(damaged[place] ^ 1 << random.uniform(0, 8));
        const PrintCopy copy = make_print_copy(damaged, 60);
        CHECK(copy.jpeg.empty() == (copy.width_px == 0));
        CHECK((!copy.jpeg.empty() || !copy.fault.empty()));
    }
}

TEST_CASE("A copy crosses the workers' pipe unchanged", "[photo][print_copy]") {
    const PrintCopy copy{std::string("\xFF\xD8\0jpeg", 7), 4000, 3000, true, "cut short"};
    const PrintCopy back = print_copy_from_bytes(to_bytes(copy));
    CHECK(back.jpeg == copy.jpeg);
    CHECK(back.width_px == 4000);
    CHECK(back.height_px == 3000);
    CHECK(back.recompressed);
    CHECK(back.fault == "cut short");
    const std::string bytes = to_bytes(copy);
    for (std::size_t length = 0; length < 41; ++length) {  // four numbers and the fault
        CHECK_THROWS_AS(print_copy_from_bytes(std::string_view(bytes).substr(0, length)), stripbook::BadFile);
    }
    CHECK_THROWS_AS(print_copy_from_bytes(std::string(64, '\xFF')), stripbook::BadFile);
    std::string too_wide = bytes;
    too_wide[2] = 1;  // 4000 + 65536
    CHECK_THROWS_AS(print_copy_from_bytes(too_wide), stripbook::BadFile);
}
