#include "sample_maker/made_set.h"

#include <catch2/catch.hpp>
#include <map>
#include <nlohmann/json.hpp>
#include <set>

#include "errors.h"
#include "sample_maker/card_folder.h"
#include "sample_maker/command.h"
#include "scratch_folder.h"

using namespace stripbook::sample_maker;
using namespace stripbook::test;
using nlohmann::json;
using stripbook::number::BookCode;

namespace {

const BookCode pet = BookCode::from_typed("PET");
const Progress quiet = [](int, int) {};

PhotosWish few_photos() {
    PhotosWish wish{pet};
    wish.count = 3;
    wish.tags = 2;
    wish.look.size_px = {800, 600};
    wish.look.covered = {0, 0.2};
    return wish;
}

json truth_of(const std::filesystem::path& folder) {
    return json::parse(bytes_of(folder / "truth.json"));
}

void check_corners(const json& corners) {
    REQUIRE(corners.size() == 4);
    for (const json& corner : corners) {
        REQUIRE(corner.size() == 2);
        CHECK(corner[0].is_number_float());
    }
}

// Seconds since 1970 by the date tool: of "2026-03-20T08:58:15.530".
double seconds_of(const std::string& time) {
    return std::stod(run("date -u -d '" + time + "' +%s.%N").output);
}

// What the camera's clock said, by the exiv2 tool: "2026:03:20 08:58:15" and "53".
double camera_seconds_of(const std::filesystem::path& file) {
    const std::string read = "exiv2 -q -Pv -K ";
    std::string day_and_time = run(read + "Exif.Photo.DateTimeOriginal " + quoted(file)).output;
    const std::string hundredths = run(read + "Exif.Photo.SubSecTimeOriginal " + quoted(file)).output;
    day_and_time[4] = day_and_time[7] = '-';
    return seconds_of(day_and_time.substr(0, 19)) + std::stod("0." + hundredths);
}

}  // namespace

TEST_CASE("Photos come as a card with their truth: every field, and the digest that sha256sum finds",
          "[sample_maker]") {
    const ScratchFolder folder;
    make_photos(few_photos(), folder / "set", quiet);
    const json truth = truth_of(folder / "set");
    REQUIRE(truth["shots"].size() == 3);
    CHECK(truth["shots"][0]["file"] == "DCIM/100MADE_/MADE0001.JPG");
    CHECK(truth["shots"][2]["file"] == "DCIM/100MADE_/MADE0003.JPG");
    for (const json& shot : truth["shots"]) {
        const auto file = folder / "set" / shot["file"].get<std::string>();
        CHECK(run("sha256sum < " + quoted(file)).output.substr(0, 64) == shot["sha256"]);
        CHECK(shot["K"].size() == 3);
        CHECK(shot["dist"] == json({0.0, 0.0, 0.0, 0.0}));
        CHECK(shot["orientation"] == 1);
        CHECK(shot["camera"].is_string());
        CHECK(seconds_of(shot["true_time"]) > 0);
        CHECK(shot["cards"].empty());
        REQUIRE(shot["tags"].size() == 2);
        for (std::size_t i = 0; i < 2; ++i) {
            const json& tag = shot["tags"][i];
            CHECK(tag["payload"].get<std::string>().substr(0, 9) == shot["belongs_to"][i]);
            check_corners(tag["corners_px_unrotated"]);
            CHECK(tag["whole_in_frame"] == true);
            CHECK(tag["px_per_mm"].get<double>() >= 0.999);
            CHECK(tag["px_per_mm"].get<double>() <= 3.001);
            CHECK(tag["grime"].get<double>() <= 0.3);
            CHECK(tag["covered"].get<double>() <= 0.203);
            CHECK(tag["fiducials"].size() == 4);
            check_corners(tag["fiducials"][0]["corners_px_unrotated"]);
        }
    }
}

TEST_CASE("Same seed, same bytes: another seed, others", "[sample_maker]") {
    const ScratchFolder folder;
    make_photos(few_photos(), folder / "a", quiet);
    make_photos(few_photos(), folder / "b", quiet);
    CHECK(run("diff -r " + quoted(folder / "a") + " " + quoted(folder / "b")).status == 0);
    PhotosWish other = few_photos();
    other.seed = 2;
    make_photos(other, folder / "c", quiet);
    CHECK(run("diff -rq " + quoted(folder / "a") + " " + quoted(folder / "c")).status == 1);
}

TEST_CASE("A set goes into an empty folder only, and a wish that cannot be met is refused",
          "[sample_maker]") {
    const ScratchFolder folder;
    write_file(folder / "full/letter.txt", "keep me");
    CHECK_THROWS_AS(make_photos(few_photos(), folder / "full", quiet), stripbook::WrongUse);
    CHECK(bytes_of(folder / "full/letter.txt") == "keep me");
    PhotosWish crowded = few_photos();
    crowded.tags = 50;
    CHECK_THROWS_WITH(make_photos(crowded, folder / "crowded", quiet), Catch::Contains("side by side"));
    CHECK_THROWS_AS(make_photos(few_photos(), "/proc/none/set", quiet), stripbook::OutsideError);
}

TEST_CASE("A made day has tag shots, details without a tag and bench shots, a roll-over and a wrong clock",
          "[sample_maker]") {
    const ScratchFolder folder;
    DayWish wish{pet, 4, 2, 1, {640, 480}};
    make_day(wish, folder / "day", quiet);
    const json truth = truth_of(folder / "day");
    std::map<std::string, int> kinds;
    std::set<std::string> parts;
    std::map<std::string, std::string> last_time;
    for (const json& shot : truth["shots"]) {
        const std::string kind = shot["kind"];
        ++kinds[kind];
        REQUIRE(shot["belongs_to"].size() == 1);
        parts.insert(shot["belongs_to"][0].get<std::string>());
        CHECK(shot["tags"].size() == (kind == "as-removed detail" ? 0 : 1));
        CHECK(shot["cards"].size() == (kind == "bench" ? 1 : 0));
        for (const json& tag : shot["tags"]) {
            CHECK(tag["whole_in_frame"] == true);
            CHECK(tag["payload"].get<std::string>().substr(0, 9) == shot["belongs_to"][0]);
        }
        for (const json& card : shot["cards"]) {
            CHECK(card["name"] == "bench");
            CHECK(card["identities"].size() == 8);
            check_corners(card["identities"]["4"]);
        }
        // The camera's clock against the truth, within the hundredth that it writes.
        const auto file = folder / "day" / shot["file"].get<std::string>();
        const bool second_camera = shot["file"].get<std::string>().substr(0, 8) == "CAMERA2/";
        CHECK(camera_seconds_of(file) - seconds_of(shot["true_time"]) ==
              Approx(second_camera ? 440 : 0).margin(0.0101));
    }
    CHECK(kinds["as-removed"] == 4);
    CHECK(kinds["bench"] == 4);
    CHECK(kinds["as-removed detail"] >= 8);
    CHECK(parts.size() == 4);
    CHECK(std::filesystem::exists(folder / "day/CAMERA1/DCIM/101FERRO/FVA_9999.JPG"));
    CHECK(std::filesystem::exists(folder / "day/CAMERA1/DCIM/102FERRO/FVA_0001.JPG"));
    CHECK(std::filesystem::exists(folder / "day/CAMERA2/DCIM/100FPKT_/IMG_2000.JPG"));
    CHECK(truth["cameras"][1]["clock_error_s"] == 440.0);
}

TEST_CASE("File names follow the camera rule: four digits, then the next folder", "[sample_maker]") {
    DcfCounter counter("MADE_", "MADE", 100, 9999);
    CHECK(counter.next() == "DCIM/100MADE_/MADE9999.JPG");
    CHECK(counter.next() == "DCIM/101MADE_/MADE0001.JPG");
    DcfCounter last("MADE_", "MADE", 999, 9999);
    last.next();
    CHECK_THROWS_AS(last.next(), stripbook::WrongUse);
}
