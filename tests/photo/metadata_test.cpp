#include "photo/metadata.h"

#include <fmt/format.h>

#include <catch2/catch.hpp>
#include <clocale>
#include <map>
#include <opencv2/core.hpp>
#include <opencv2/imgcodecs.hpp>
#include <sstream>

#include "outside_tool.h"
#include "scratch_folder.h"

using stripbook::photo::Metadata;
using stripbook::photo::read_metadata;
using namespace stripbook::test;

namespace {

std::string blank_picture(const std::string& ending = ".jpg") {
    std::vector<unsigned char> bytes;
    REQUIRE(cv::imencode(ending, cv::Mat(16, 24, CV_8UC3, cv::Scalar::all(90)), bytes));
    return {bytes.begin(), bytes.end()};
}

// A picture into which the exiv2 command has written: each change as "Key Type value".
Metadata metadata_with(const std::vector<std::string>& changes, const std::string& ending = ".jpg") {
    const ScratchFolder folder;
    const auto path = folder / ("photo" + ending);
    write_file(path, blank_picture(ending));
    for (const std::string& change : changes) {
        output_of(fmt::format("exiv2 -M'set {}' {}", change, quoted(path)), "exiv2");
    }
    return read_metadata(bytes_of(path));
}

using Fields = std::map<std::string, std::string>;

// The text between the first `open` and the last `close` of a line.
std::string between(const std::string& line, char open, char close) {
    const auto first = line.find(open);
    const auto last = line.rfind(close);
    return first == std::string::npos || last <= first ? std::string()
                                                       : line.substr(first + 1, last - first - 1);
}

// As our texts are: without quotation marks and the blanks behind.
std::string plain(std::string text) {
    text = text.substr(0, 1) == "\"" ? between(text, '"', '"') : text;
    return text.substr(0, text.find_last_not_of(' ') + 1);
}

// What the package's own authors expect of their samples: lines of `		Name: `value`,` under `
// "file": map...`.
std::map<std::string, Fields> expected_of_samples() {
    std::istringstream source(bytes_of(exif_samples() / "regress_expected_test.go", exif_samples_package));
    std::map<std::string, Fields> expected;
    std::string file;
    for (std::string line; std::getline(source, line);) {
        if (line.substr(0, 2) == "\t\"") {
            file = between(line, '"', '"');
        } else if (line.substr(0, 2) == "\t\t") {
            expected[file][line.substr(2, line.find(':') - 2)] = plain(between(line, '`', '`'));
        }
    }
    return expected;
}

std::optional<double> quotient(const std::string& text) {
    const auto stroke = text.find('/');
    if (stroke == std::string::npos || text.substr(stroke + 1) == "0" || text.substr(0, stroke) == "0") {
        return std::nullopt;
    }
    return std::stod(text) / std::stod(text.substr(stroke + 1));
}

std::string expected_time(Fields& fields) {
    const std::pair<const char*, const char*> best_first[] = {{"DateTimeOriginal", "SubSecTimeOriginal"},
                                                              {"DateTimeDigitized", "SubSecTimeDigitized"},
                                                              {"DateTime", "SubSecTime"}};
    for (const auto& [name, fraction] : best_first) {
        const std::string time = fields[name];
        if (!time.empty()) {
            return time.substr(0, 4) + "-" + time.substr(5, 2) + "-" + time.substr(8, 2) + "T" +
                   time.substr(11) + (fields[fraction].empty() ? "" : "." + fields[fraction]);
        }
    }
    return {};
}

}  // namespace

TEST_CASE("The metadata of 57 cameras is what the samples' authors expect", "[photo][metadata]") {
    auto expected = expected_of_samples();
    REQUIRE(expected.size() == 57);
    for (auto& [file, fields] : expected) {
        INFO(file);
        const Metadata found =
            read_metadata(bytes_of(exif_samples() / "samples" / file, exif_samples_package));
        CHECK(found.maker == fields["Make"]);
        CHECK(found.model == fields["Model"]);
        CHECK(found.lens == fields["LensModel"]);
        CHECK(found.time == expected_time(fields));
        CHECK(std::to_string(found.orientation) ==
              (fields["Orientation"].empty() ? "1" : fields["Orientation"]));
        const auto focal_length = quotient(fields["FocalLength"]);
        CHECK(found.focal_length_mm.has_value() == focal_length.has_value());
        CHECK(found.focal_length_mm.value_or(0) == Approx(focal_length.value_or(0)));
        const std::string in_35_mm = fields["FocalLengthIn35mmFilm"];
        CHECK(found.focal_length_35_mm.value_or(0) == (in_35_mm.empty() ? 0 : std::stod(in_35_mm)));
    }
}

TEST_CASE("A whole camera file gives what exiftool prints", "[photo][metadata]") {
    // NIKON D2H, 2003:11:23 18:07:37, sub-second 63, focal length 23.33 mm, 35 mm equivalent 35, by
    // exiftool 12.57.
    const Metadata found = read_metadata(bytes_of(exif_samples() / "sample1.jpg", exif_samples_package));
    CHECK(found.fault.empty());
    CHECK(found.maker == "NIKON CORPORATION");
    CHECK(found.model == "NIKON D2H");
    CHECK(found.time == "2003-11-23T18:07:37.63");
    CHECK(found.focal_length_mm == Approx(23.33));
    CHECK(found.focal_length_35_mm == 35.0);
    CHECK(found.orientation == 1);
    CHECK(found.utc_offset.empty());
}

TEST_CASE("The orientation is read, and what is none counts as upright", "[photo][metadata]") {
    for (int orientation = 1; orientation <= 8; ++orientation) {
        const auto name = fmt::format("samples/f{}-exif.jpg", orientation);
        CHECK(read_metadata(bytes_of(exif_samples() / name, exif_samples_package)).orientation ==
              orientation);
    }
    for (const char* none : {"0", "9", "65535"}) {
        CHECK(metadata_with({fmt::format("Exif.Image.Orientation Short {}", none)}).orientation == 1);
    }
    CHECK(metadata_with({"Exif.Image.Orientation Ascii six"}).orientation == 1);
    CHECK(metadata_with({}).orientation == 1);
}

TEST_CASE("All fields are read from JPEG, PNG and TIFF as exiftool wrote them", "[photo][metadata]") {
    for (const char* ending : {".jpg", ".png", ".tiff"}) {
        INFO(ending);
        const ScratchFolder folder;
        const auto path = folder / (std::string("photo") + ending);
        write_file(path, blank_picture(ending));
        output_of(
            "exiftool -q -overwrite_original -n -Make='Petrel Works' -Model=Inspector -SerialNumber=PW0042 "
            "-LensModel='45 mm f/4' -DateTimeOriginal='2026:03:20 08:58:15' -SubSecTimeOriginal=07 "
            "-OffsetTimeOriginal=+01:00 -Orientation=6 -FocalLength=45.5 -FocalLengthIn35mmFormat=68 "
            "-XMP-dc:Title=ignored " +
                quoted(path),
            "libimage-exiftool-perl");
        const Metadata found = read_metadata(bytes_of(path));
        CHECK(found.fault.empty());
        CHECK(found.maker == "Petrel Works");
        CHECK(found.model == "Inspector");
        CHECK(found.serial == "PW0042");
        CHECK(found.lens == "45 mm f/4");
        CHECK(found.time == "2026-03-20T08:58:15.07");
        CHECK(found.utc_offset == "+01:00");
        CHECK(found.orientation == 6);
        CHECK(found.focal_length_mm == Approx(45.5));
        CHECK(found.focal_length_35_mm == 68.0);
    }
}

TEST_CASE("The serial number may stand in the maker's notes", "[photo][metadata]") {
    const auto path = exif_samples() / "samples/2011-10-28-18-25-43-sep-2011-10-28-18-25-43.jpg";
    CHECK(read_metadata(bytes_of(path, exif_samples_package)).serial ==
          "3453402");  // NIKON D80; exiftool and exiv2 -pt say the same
    CHECK(metadata_with({"Exif.Photo.BodySerialNumber Ascii 0000000"}).serial.empty());
    CHECK(metadata_with({"Exif.Photo.BodySerialNumber Ascii 0000001"}).serial == "0000001");
}

TEST_CASE("The best time that is one is taken, with its own fraction and offset", "[photo][metadata]") {
    const std::string original = "Exif.Photo.DateTimeOriginal Ascii ";
    const std::string digitized = "Exif.Photo.DateTimeDigitized Ascii ";
    const std::string changed = "Exif.Image.DateTime Ascii ";
    const std::string good = "2026:03:20 08:58:15";
    CHECK(metadata_with({original + good, changed + "2026:05:05 05:05:05"}).time == "2026-03-20T08:58:15");
    const Metadata second = metadata_with(
        {original + "0000:00:00 00:00:00", "Exif.Photo.SubSecTimeOriginal Ascii 11", digitized + good,
         "Exif.Photo.SubSecTimeDigitized Ascii 22", "Exif.Photo.OffsetTimeOriginal Ascii +05:00",
         "Exif.Photo.OffsetTimeDigitized Ascii -02:00"});
    CHECK(second.time == "2026-03-20T08:58:15.22");
    CHECK(second.utc_offset == "-02:00");
    const Metadata third =
        metadata_with({original + "2026:02:30 08:58:15", digitized + "    :  :     :  :  ", changed + good,
                       "Exif.Photo.SubSecTime Ascii 5"});
    CHECK(third.time == "2026-03-20T08:58:15.5");
    CHECK(metadata_with({original + "yesterday"}).time.empty());
    CHECK(metadata_with({"Exif.Photo.OffsetTimeOriginal Ascii +05:00"}).utc_offset.empty());  // of no time
    CHECK(metadata_with({}).time.empty());
}

TEST_CASE("A focal length of nothing is not said", "[photo][metadata]") {
    CHECK_FALSE(metadata_with({"Exif.Photo.FocalLength Rational 0/1"}).focal_length_mm);
    CHECK_FALSE(metadata_with({"Exif.Photo.FocalLength Rational 50/0"}).focal_length_mm);
    CHECK_FALSE(metadata_with({"Exif.Photo.FocalLength SRational -50/1"}).focal_length_mm);
    CHECK_FALSE(metadata_with({"Exif.Photo.FocalLengthIn35mmFilm Short 0"}).focal_length_35_mm);
    CHECK(metadata_with({"Exif.Photo.FocalLengthIn35mmFilm Short 28"}).focal_length_35_mm == 28.0);
}

TEST_CASE("Texts are trimmed and made valid UTF-8", "[photo][metadata]") {
    const Metadata found =
        metadata_with({"Exif.Image.Make Ascii   M\xFCller   ", "Exif.Image.Model Ascii Größe\x1b[31m"});
    CHECK(found.maker == "M\xEF\xBF\xBDller");
    CHECK(found.model == "Größe [31m");
}

TEST_CASE("Damaged metadata is a fault or a gap, never a crash", "[photo][metadata]") {
    for (const char* name : {"huge_tag_exif.jpg", "infinite_loop_exif.jpg", "max_uint32_exif.jpg"}) {
        const std::string bytes = bytes_of(exif_samples() / "corrupt" / name, exif_samples_package);
        CHECK_NOTHROW(read_metadata(bytes));
    }
    CHECK(read_metadata("").fault == "empty file");
    CHECK(read_metadata("Brake rigging").fault == "not a picture this program reads: no camera data");
    CHECK(read_metadata(blank_picture()).fault.empty());
    const std::string whole = bytes_of(exif_samples() / "sample1.jpg", exif_samples_package);
    const Metadata cut = read_metadata(std::string_view(whole).substr(0, 3000));
    CHECK(cut.fault == "cut short or damaged: camera data (Exif) may be missing");
}

TEST_CASE("A flipped bit in the metadata never throws", "[photo][metadata]") {
    const std::string whole = bytes_of(exif_samples() / "sample1.jpg", exif_samples_package);
    cv::RNG random(5);
    for (int turn = 0; turn < 2000; ++turn) {
        std::string damaged = whole.substr(0, 30000);
        const auto place = static_cast<std::size_t>(random.uniform(2, 2000));
        damaged[place] = static_cast<char>(damaged[place] ^ 1 << random.uniform(0, 8));
        const Metadata found = read_metadata(damaged);
        CHECK((found.orientation >= 1 && found.orientation <= 8));
    }
}

TEST_CASE("Numbers are read the same where the decimal sign is a comma", "[photo][metadata]") {
    const ScratchFolder folder;
    output_of("localedef -i de_DE -f UTF-8 " + quoted(folder / "de_DE.UTF-8"), "locales");
    setenv("LOCPATH", folder.path().c_str(), 1);
    const std::string before = std::setlocale(LC_ALL, nullptr);
    REQUIRE(std::setlocale(LC_ALL, "de_DE.UTF-8") != nullptr);
    REQUIRE(std::string(std::localeconv()->decimal_point) == ",");
    const auto focal_length = metadata_with({"Exif.Photo.FocalLength Rational 233/10"}).focal_length_mm;
    const auto seconds = stripbook::photo::seconds_of("1970-01-01T00:00:00.25");
    std::setlocale(LC_ALL, before.c_str());
    unsetenv("LOCPATH");
    CHECK(focal_length == Approx(23.3));
    CHECK(seconds == 0.25);
}
