// Kinds of PNG and TIFF, made by ImageMagick and judged by what ImageMagick itself makes of them on white.
#include "photo/raster_decoder.h"

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <opencv2/core.hpp>

#include "outside_tool.h"
#include "photo/picture.h"
#include "scratch_folder.h"

using stripbook::photo::decode_colour;
using stripbook::photo::decode_grey;
using stripbook::photo::stored_size;
using namespace stripbook::test;

namespace {

constexpr int width = 90;
constexpr int height = 70;
const std::string package = "imagemagick";

struct Kind {
    std::string name;
    std::string options;
    bool grey = false;
};

// A picture with a colour gradient, sharp edges and (where the kind keeps it) a transparency gradient.
std::string made_with(const std::string& options, const std::string& file) {
    return fmt::format(
        "convert-im6.q16 -size {0}x{1} gradient:red-blue -fill yellow -draw 'rectangle 20,10 50,30' "
        "\\( -size {1}x{0} gradient:white-gray20 -rotate 90 \\) -alpha off -compose CopyOpacity -composite "
        "{2} {3}",
        width, height, options, file);
}

cv::Mat as_imagemagick_shows(const std::filesystem::path& file) {
    const std::string rgb =
        output_of("convert-im6.q16 " + quoted(file) +
                      " -background white -alpha remove -alpha off -colorspace sRGB -depth 8 bgr:-",
                  package);
    REQUIRE(rgb.size() == std::size_t{width} * height * 3);
    cv::Mat pixels(height, width, CV_8UC3);
    std::copy(rgb.begin(), rgb.end(), pixels.data);
    return pixels;
}

void check_kind(const std::string& ending, const Kind& kind) {
    INFO(ending << " " << kind.name);
    const ScratchFolder folder;
    const auto path = folder / ("made." + ending);
    output_of(made_with(kind.options, (ending == "png" ? "png:" : "tiff:") + quoted(path)), package);
    const std::string bytes = bytes_of(path);
    CHECK(stored_size(bytes) == cv::Size(width, height));
    const auto picture = decode_colour(bytes);
    CHECK(picture.whole);
    CHECK(picture.fault.empty());
    REQUIRE(picture.pixels.type() == CV_8UC3);
    REQUIRE(picture.pixels.size() == cv::Size(width, height));
    const cv::Mat expected = as_imagemagick_shows(path);
    CHECK(cv::norm(picture.pixels, expected, cv::NORM_INF) <= 2);  // each of us rounds alpha and 16 bits once
    const auto grey = decode_grey(bytes);
    REQUIRE(grey.pixels.type() == CV_8UC1);
    if (kind.grey) {
        cv::Mat one_channel;
        cv::extractChannel(expected, one_channel, 0);
        CHECK(cv::norm(grey.pixels, one_channel, cv::NORM_INF) <= 2);
    }
}

}  // namespace

TEST_CASE("Every kind of PNG shows as ImageMagick shows it on white", "[photo][picture]") {
    const Kind kinds[] = {
        {"8-bit colour", "-alpha off -depth 8 -define png:color-type=2 -define png:bit-depth=8"},
        {"16-bit colour", "-alpha off -depth 16 -define png:color-type=2 -define png:bit-depth=16"},
        {"8-bit grey", "-alpha off -colorspace Gray -define png:color-type=0 -define png:bit-depth=8", true},
        {"16-bit grey", "-alpha off -colorspace Gray -define png:color-type=0 -define png:bit-depth=16",
         true},
        {"1-bit grey",
         "-alpha off -colorspace Gray -threshold 50% -define png:color-type=0 -define png:bit-depth=1", true},
        {"palette", "-alpha off -colors 60 -define png:color-type=3"},
        {"palette with transparency",
         "-channel A -threshold 50% +channel -colors 60 -define png:color-type=3"},
        {"8-bit grey with alpha", "-colorspace Gray -define png:color-type=4 -define png:bit-depth=8", true},
        {"16-bit grey with alpha", "-colorspace Gray -define png:color-type=4 -define png:bit-depth=16",
         true},
        {"8-bit colour with alpha", "-define png:color-type=6 -define png:bit-depth=8"},
        {"16-bit colour with alpha", "-define png:color-type=6 -define png:bit-depth=16"},
        {"interlaced", "-alpha off -interlace PNG -define png:color-type=2 -define png:bit-depth=8"},
    };
    for (const Kind& kind : kinds) {
        check_kind("png", kind);
    }
}

TEST_CASE("Every kind of TIFF shows as ImageMagick shows it on white", "[photo][picture]") {
    const Kind kinds[] = {
        {"8-bit colour", "-alpha off -depth 8 -compress none"},
        {"8-bit colour, big-endian", "-alpha off -depth 8 -compress none -endian MSB"},
        {"8-bit colour, LZW", "-alpha off -depth 8 -compress LZW"},
        {"8-bit colour, deflate", "-alpha off -depth 8 -compress Zip"},
        {"8-bit colour, tiled", "-alpha off -depth 8 -define tiff:tile-geometry=32x32"},
        {"8-bit colour, planes apart", "-alpha off -depth 8 -interlace plane"},
        {"16-bit colour", "-alpha off -depth 16 -compress none"},
        {"16-bit colour, LZW, big-endian", "-alpha off -depth 16 -compress LZW -endian MSB"},
        {"8-bit grey", "-alpha off -colorspace Gray -depth 8", true},
        {"16-bit grey", "-alpha off -colorspace Gray -depth 16", true},
        {"8-bit grey, white is zero",
         "-alpha off -colorspace Gray -depth 8 -define quantum:polarity=min-is-white", true},
        {"1-bit", "-alpha off -colorspace Gray -threshold 50% -type bilevel -compress Group4", true},
        {"palette", "-alpha off -colors 250 -type Palette"},
        {"8-bit colour with alpha", "-depth 8"},
        {"16-bit colour with alpha", "-depth 16"},
        {"8-bit colour with alpha multiplied in", "-depth 8 -define tiff:alpha=associated"},
        {"16-bit colour with alpha multiplied in", "-depth 16 -define tiff:alpha=associated"},
        {"8-bit inks", "-alpha off -depth 8 -colorspace CMYK"},
    };
    for (const Kind& kind : kinds) {
        check_kind("tiff", kind);
    }
}
