#include "made_card.h"

#include <catch2/catch.hpp>
#include <fstream>

#include "program.h"

namespace stripbook::test {

namespace {

void date(const std::filesystem::path& file, const std::string& time, const std::string& camera) {
    const Ran ran =
        run({"exiv2", "-M", "set Exif.Image.Make Ferrow", "-M", "set Exif.Image.Model FV-20", "-M",
             "set Exif.Photo.BodySerialNumber " + camera, "-M", "set Exif.Photo.DateTimeOriginal " + time,
             "-M", "del Exif.Photo.SubSecTimeOriginal", file.string()});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
}

}  // namespace

MadeCard::MadeCard(std::filesystem::path folder) : folder_(std::move(folder)) {
    std::filesystem::create_directories(folder_);
}

std::filesystem::path MadeCard::place_for(const std::string& name) const {
    const auto place = folder_ / name;
    std::filesystem::create_directories(place.parent_path());
    return place;
}

void MadeCard::tag_shot(const std::string& name, const std::string& tag, const std::string& time,
                        const std::string& camera) const {
    const auto place = place_for(name);
    const Ran ran = run({sample_maker_path().string(), "one", "--tag", tag, "--px-per-mm", "4", "--size",
                         "800x600", "--out", place.string()});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    date(place, time, camera);
}

void MadeCard::fiducials_only_shot(const std::string& name, const std::string& tag,
                                   const std::string& time) const {
    tag_shot(name, tag, time);
    const auto place = place_for(name);
    // The tag is drawn square on in the middle at 4 px/mm: its QR code lies around (360, 300), 93 px wide.
    const Ran ran = run({"mogrify", "-quality", "95", "-fill", "gray40", "-draw", "rectangle 306,246 414,354",
                         place.string()});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    date(place, time, "A1");
}

void MadeCard::stage_card_shot(const std::string& name, const std::string& stage,
                               const std::string& time) const {
    const auto place = place_for(name);
    const Ran ran = run({sample_maker_path().string(), "one", "--stage", stage, "--px-per-mm", "4", "--size",
                         "800x600", "--out", place.string()});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    date(place, time, "A1");
}

void MadeCard::floor(const std::string& name, const std::string& time, const std::string& camera) const {
    const auto place = place_for(name);
    const auto drawn = folder_.parent_path() / "floor being drawn";
    const Ran ran = run({sample_maker_path().string(), "photos", "--tags", "0", "--count", "1", "--size",
                         "800x600", "--out", drawn.string()});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    std::filesystem::rename(drawn / "DCIM/100MADE_/MADE0001.JPG", place);
    std::filesystem::remove_all(drawn);
    // Each floor its own bytes: a second shot of the same floor would be the same file seen again.
    date(place, time, camera);
}

void MadeCard::file(const std::string& name, const std::string& bytes) const {
    std::ofstream(place_for(name), std::ios::binary) << bytes;
}

std::string bytes_of(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    REQUIRE(in);
    return {std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
}

}  // namespace stripbook::test
