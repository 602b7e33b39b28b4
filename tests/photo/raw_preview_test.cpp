// Raw files are built here piece by piece, as the cameras lay them out, and exiftool (which knows these
// formats from the cameras' own files) must find the same preview in them.
#include "photo/raw_preview.h"

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <map>
#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "outside_tool.h"
#include "photo/metadata.h"
#include "photo/picture.h"
#include "photo/print_copy.h"
#include "scratch_folder.h"

using stripbook::photo::decode_grey;
using stripbook::photo::FileFormat;
using stripbook::photo::format_of;
using stripbook::photo::Picture;
using stripbook::photo::raw_preview;
using stripbook::photo::stored_size;
using namespace stripbook::test;

namespace {

std::string jpeg(int width, int height, int shade = 128) {
    cv::Mat pixels(height, width, CV_8UC3, cv::Scalar::all(shade));
    cv::circle(pixels, {width / 3, height / 4}, height / 8, {0, 0, 255}, cv::FILLED);
    std::vector<unsigned char> bytes;
    REQUIRE(cv::imencode(".jpg", pixels, bytes));
    return {bytes.begin(), bytes.end()};
}

std::string number(std::uint64_t value, int length, bool big_endian) {
    std::string bytes;
    for (int i = 0; i < length; ++i) {
        const int shift = 8 * (big_endian ? length - 1 - i : i);
        bytes += static_cast<char>(value >> static_cast<unsigned>(shift) & 0xFFU);
    }
    return bytes;
}

struct Entry {
    int type = 4;  // 2 text, 3 short, 4 long, 7 bytes
    std::uint32_t count = 1;
    std::string value;
};

// A TIFF put together from the front: data first, each directory when its place is known.
class RawFile {
  public:
    explicit RawFile(const std::string& start = std::string("II*\0", 4), bool big_endian = false)
        : bytes_(start + std::string(12, '\0')), big_(big_endian) {}

    std::uint32_t put(const std::string& data) {
        const auto place = static_cast<std::uint32_t>(bytes_.size());
        bytes_ += data + std::string(data.size() % 2, '\0');
        return place;
    }
    [[nodiscard]] Entry of_long(std::uint32_t value) const { return {4, 1, number(value, 4, big_)}; }
    [[nodiscard]] Entry of_short(std::uint32_t value) const {
        return {3, 1, number(value, 2, big_) + std::string(2, '\0')};
    }
    [[nodiscard]] Entry of_text(const std::string& text) {
        return {2, static_cast<std::uint32_t>(text.size() + 1), number(put(text + '\0'), 4, big_)};
    }
    std::uint32_t directory(const std::map<int, Entry>& entries, std::uint32_t next = 0) {
        std::string data = number(entries.size(), 2, big_);
        for (const auto& [tag, entry] : entries) {
            data += number(static_cast<unsigned>(tag), 2, big_) +
                    number(static_cast<unsigned>(entry.type), 2, big_) + number(entry.count, 4, big_) +
                    entry.value;
        }
        return put(data + number(next, 4, big_));
    }
    std::string whole(std::uint32_t first_directory) {
        bytes_.replace(4, 4, number(first_directory, 4, big_));
        return bytes_;
    }
    [[nodiscard]] std::map<int, Entry> strip(std::uint32_t place, std::size_t length, int width, int height,
                                             std::uint32_t compression, std::uint32_t photometric) const {
        return {{256, of_long(static_cast<unsigned>(width))},
                {257, of_long(static_cast<unsigned>(height))},
                {258, of_short(8)},
                {259, of_short(compression)},
                {262, of_short(photometric)},
                {273, of_long(place)},
                {277, of_short(photometric == 6 ? 3 : 1)},
                {278, of_long(static_cast<unsigned>(height))},
                {279, of_long(static_cast<unsigned>(length))}};
    }

  private:
    std::string bytes_;
    bool big_;
};

// Adobe's DNG specification: a small picture first, the sensor's samples and a preview in sub-directories.
std::string dng(const std::string& preview, cv::Size preview_size) {
    RawFile file;
    const std::string samples(64 * 48 * 2, '\x21');
    auto raw = file.strip(file.put(samples), samples.size(), 64, 48, 1, 32803);
    raw[254] = file.of_long(0);
    auto small = file.strip(file.put(preview), preview.size(), preview_size.width, preview_size.height, 7, 6);
    small[254] = file.of_long(1);
    const auto raw_at = file.directory(raw);
    const auto preview_at = file.directory(small);
    const auto list = file.put(number(raw_at, 4, false) + number(preview_at, 4, false));
    auto first = file.strip(file.put(std::string(16 * 12, '\x55')), 16 * 12, 16, 12, 1, 1);
    first[254] = file.of_long(1);
    first[271] = file.of_text("Ferrow Works");
    first[274] = file.of_short(6);
    first[330] = {4, 2, number(list, 4, false)};
    first[50706] = {1, 4, std::string("\1\4\0\0", 4)};
    return file.whole(file.directory(first));
}

// Nikon's NEF and Sony's ARW: the full-size preview hangs in a sub-directory by its JPEG offset and length.
std::string nef(const std::string& preview, bool big_endian) {
    RawFile file(big_endian ? std::string("MM\0*", 4) : std::string("II*\0", 4), big_endian);
    const auto sub = file.directory({{254, file.of_long(1)},
                                     {259, file.of_short(6)},
                                     {513, file.of_long(file.put(preview))},
                                     {514, file.of_long(static_cast<unsigned>(preview.size()))}});
    auto first = file.strip(file.put(std::string(16 * 12, '\x55')), 16 * 12, 16, 12, 1, 1);
    first[254] = file.of_long(1);
    first[271] = file.of_text("NIKON CORPORATION");
    first[330] = file.of_long(sub);
    return file.whole(file.directory(first));
}

std::string preview_by_exiftool(const std::string& bytes, const std::string& name, const std::string& tag) {
    const ScratchFolder folder;
    write_file(folder / name, bytes);
    return output_of("exiftool -b -" + tag + " " + quoted(folder / name), "libimage-exiftool-perl");
}

void check_read_from(const std::string& raw, cv::Size size) {
    CHECK(format_of(raw) == FileFormat::raw);
    CHECK(stored_size(raw) == size);
    const Picture picture = decode_grey(raw);
    CHECK(picture.whole);
    CHECK(picture.stored == size);
    CHECK(picture.pixels.size() == size);
    CHECK(picture.note ==
          fmt::format("a camera's raw file: its preview of {} x {} was read", size.width, size.height));
}

}  // namespace

TEST_CASE("The preview of a DNG is found in its sub-directory", "[photo][raw]") {
    const std::string preview = jpeg(1600, 1200);
    const std::string raw = dng(preview, {1600, 1200});
    CHECK(raw_preview(raw) == preview);
    CHECK(raw_preview(raw) == preview_by_exiftool(raw, "a.dng", "PreviewImage"));
    check_read_from(raw, {1600, 1200});
    // The preview's grid is the sensor's: the raw file's turn is still to come.
    const auto metadata = stripbook::photo::read_metadata(raw);
    CHECK(metadata.orientation == 6);
    CHECK(metadata.maker == "Ferrow Works");
}

TEST_CASE("The full-size preview is taken before smaller ones, in either byte order", "[photo][raw]") {
    const std::string preview = jpeg(2000, 1330);
    for (const bool big_endian : {true, false}) {
        const std::string raw = nef(preview, big_endian);
        CHECK(raw_preview(raw) == preview);
        CHECK(raw_preview(raw) == preview_by_exiftool(raw, "a.nef", "JpgFromRaw"));
        check_read_from(raw, {2000, 1330});
    }
}

TEST_CASE("The lossless JPEG of the samples is no preview", "[photo][raw]") {
    // Canon's CR2: the preview in the first directory's strip, the samples in the last directory's.
    std::string samples = jpeg(3000, 2000);
    const auto frame = samples.find("\xFF\xC0");
    REQUIRE(frame != std::string::npos);
    samples[frame + 1] = '\xC3';
    const std::string preview = jpeg(1440, 960);
    RawFile file(std::string("II*\0\x10\0\0\0CR\2\0", 12));
    const auto last = file.directory(file.strip(file.put(samples), samples.size(), 3000, 2000, 6, 6));
    auto first = file.strip(file.put(preview), preview.size(), 1440, 960, 6, 6);
    first[271] = file.of_text("Canon");
    const std::string raw = file.whole(file.directory(first, last));
    CHECK(raw_preview(raw) == preview);
    CHECK(raw_preview(raw) == preview_by_exiftool(raw, "a.cr2", "PreviewImage"));
    check_read_from(raw, {1440, 960});
}

TEST_CASE("Fuji's and Panasonic's previews lie where their own heads say", "[photo][raw]") {
    const std::string preview = jpeg(1920, 1280);
    std::string raf = "FUJIFILMCCD-RAW 0201FF383501Ferrow FX";
    raf.resize(84, '\0');
    raf += number(160, 4, true) + number(preview.size(), 4, true);
    raf.resize(160, '\0');
    raf += preview;
    CHECK(raw_preview(raf) == preview);
    check_read_from(raf, {1920, 1280});

    RawFile file(std::string("IIU\0", 4));
    const Entry inside{7, static_cast<std::uint32_t>(preview.size()), number(file.put(preview), 4, false)};
    const std::string rw2 = file.whole(file.directory({{0x2E, inside}, {271, file.of_text("Panasonic")}}));
    CHECK(raw_preview(rw2) == preview);
    CHECK(raw_preview(rw2) == preview_by_exiftool(rw2, "a.rw2", "JpgFromRaw"));
    check_read_from(rw2, {1920, 1280});
}

TEST_CASE("A CR3's full-size JPEG is a track of its own", "[photo][raw]") {
    const std::string preview = jpeg(1800, 1200);
    const auto box = [](const std::string& type, const std::string& content) {
        return number(content.size() + 8, 4, true) + type + content;
    };
    const std::string head = box("ftyp", std::string("crx \0\0\0\1crx isom", 16));
    const auto movie = [&](std::uint64_t place) {
        const std::string sizes = std::string(4, '\0') + number(preview.size(), 4, true) + number(1, 4, true);
        const std::string places = std::string(4, '\0') + number(1, 4, true) + number(place, 8, true);
        return box(
            "moov",
            box("trak", box("mdia", box("minf", box("stbl", box("stsz", sizes) + box("co64", places))))));
    };
    const std::uint64_t place = head.size() + movie(0).size() + 8;
    const std::string raw = head + movie(place) + box("mdat", preview);
    CHECK(raw_preview(raw) == preview);
    check_read_from(raw, {1800, 1200});
}

TEST_CASE("A raw file with only a thumbnail, or with nothing, says so in plain words", "[photo][raw]") {
    const Picture small = decode_grey(dng(jpeg(320, 240), {320, 240}));
    CHECK_FALSE(small.whole);
    CHECK(small.pixels.empty());
    CHECK(small.fault ==
          "a camera's raw file whose preview is only 320 x 240: no tag can be read in it (save it as JPEG or "
          "TIFF)");
    const Picture none = decode_grey(dng("no JPEG", {1600, 1200}));
    CHECK_FALSE(none.whole);
    CHECK(none.fault == "a camera's raw file without a preview that can be read (save it as JPEG or TIFF)");
}

TEST_CASE("A print copy of a raw file is its preview", "[photo][raw]") {
    const std::string raw = dng(jpeg(1600, 1200), {1600, 1200});
    const auto copy = stripbook::photo::make_print_copy(raw, 800);
    CHECK(copy.fault.empty());
    CHECK(copy.width_px == 800);
    CHECK(copy.height_px == 600);
    CHECK_FALSE(stripbook::photo::make_print_copy(dng("", {1, 1}), 800).fault.empty());
}

TEST_CASE("A raw file cut short or with a flipped bit crashes nothing", "[photo][raw]") {
    const std::string raw = dng(jpeg(1200, 900), {1200, 900});
    for (std::size_t length = 0; length < raw.size(); length += 1 + raw.size() / 300) {
        const Picture picture = decode_grey(std::string_view(raw).substr(0, length));
        CHECK_FALSE(picture.whole);
    }
    cv::RNG dice(5);
    for (int i = 0; i < 300; ++i) {
        std::string flipped = raw;
        const std::size_t from_the_end = static_cast<std::size_t>(dice.uniform(1, 700));
        flipped[i % 2 == 0 ? static_cast<std::size_t>(dice.uniform(0, 16)) : raw.size() - from_the_end] ^=
            static_cast<char>(1 << dice.uniform(0, 8));
        const Picture picture = decode_grey(flipped);
        CHECK(picture.whole == picture.fault.empty());
    }
}

TEST_CASE("A TIFF that points round in circles is given up", "[photo][raw]") {
    RawFile file;
    auto first = file.strip(16, 4, 16, 12, 1, 32803);
    first[330] = file.of_long(16);
    const auto place = file.directory(first, 16);
    REQUIRE(place == 16);
    CHECK(raw_preview(file.whole(16)).empty());
}
