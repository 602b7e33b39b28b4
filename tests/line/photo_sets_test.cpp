// The whole line on sets of photographs with truth: camera cards in, right links and condition reports out.
// The repository's own sample_images always; further sets (folders with a truth.json) by the environment
// variable STRIPBOOK_PHOTO_SETS, with colons between.
#include <catch2/catch.hpp>
#include <cstdlib>
#include <fstream>
#include <map>
#include <set>
#include <sstream>

#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

std::vector<fs::path> photo_sets() {
    std::vector<fs::path> sets{source_folder() / "sample_images"};
    const char* more = std::getenv("STRIPBOOK_PHOTO_SETS");
    std::istringstream in(more == nullptr ? "" : more);
    for (std::string folder; std::getline(in, folder, ':');) {
        sets.emplace_back(folder);
    }
    return sets;
}

// Every card of a set: the set itself where it has a DCIM folder, else its folders that have one.
std::vector<std::string> cards_of(const fs::path& set) {
    if (fs::exists(set / "DCIM")) {
        return {set.string()};
    }
    std::vector<std::string> cards;
    for (const auto& entry : fs::directory_iterator(set)) {
        if (fs::exists(entry.path() / "DCIM")) {
            cards.push_back(entry.path().string());
        }
    }
    std::sort(cards.begin(), cards.end());
    return cards;
}

json truth_of(const fs::path& set) {
    std::ifstream in(set / "truth.json");
    REQUIRE(in);
    return json::parse(in);
}

// What the dump said of each file, by SHA-256.
std::map<std::string, json> by_hash(const json& answer) {
    std::map<std::string, json> files;
    for (const auto& card : answer.at("cards")) {
        for (const auto& file : card.at("files")) {
            files[file.at("sha256")] = file;
        }
    }
    return files;
}

std::set<std::string> confirmed_tags(const json& file) {
    std::set<std::string> tags;
    for (const auto& s : file.at("sightings")) {
        if (s.at("kind") == "tag" && s.at("confirmed")) {
            tags.insert(s.at("text"));
        }
    }
    return tags;
}

std::set<std::string> linked_parts(const json& file) {
    std::set<std::string> tags;
    for (const auto& link : file.at("links")) {
        // Truth names parts without the check character.
        const std::string tag = link.at("tag");
        tags.insert(tag.substr(0, tag.rfind('-')));
    }
    return tags;
}

// Corners of the truth in the stored picture: truth is given as drawn, before the camera turned the picture
// for storing; orientation 6 is viewed turned clockwise, so the drawing was stored turned the other way.
std::array<double, 2> stored_corner(const json& shot, const json& corner, double stored_height) {
    const double x = corner[0];
    const double y = corner[1];
    if (shot.at("orientation") == 6) {
        return {y, stored_height - 1 - x};
    }
    REQUIRE(shot.at("orientation") == 1);
    return {x, y};
}

struct Count {
    int shots = 0, linked_right = 0, linked_wrong = 0, needs_person = 0;
    int tags = 0, tags_read = 0, must_read = 0, must_missed = 0, wrong_numbers = 0;
};

void count_tags(const json& shot, const json& file, Count& count) {
    const auto read = confirmed_tags(file);
    std::set<std::string> there;
    for (const auto& tag : shot.at("tags")) {
        const std::string number = tag.at("payload");
        there.insert(number);
        // The bar: whole, 1.5 px/mm or more, grime up to 0.3, nothing lying over it.
        const bool must = tag.at("whole_in_frame") && tag.at("px_per_mm") >= 1.5 && tag.at("grime") <= 0.3 &&
                          tag.at("covered") == 0.0;
        count.tags += 1;
        count.tags_read += read.contains(number) ? 1 : 0;
        count.must_read += must ? 1 : 0;
        if (must && !read.contains(number)) {
            UNSCOPED_INFO("not read: " << number << " in " << shot.at("file"));
            count.must_missed += 1;
        }
    }
    for (const auto& number : read) {
        if (!there.contains(number)) {
            UNSCOPED_INFO("WRONG: " << number << " in " << shot.at("file"));
            count.wrong_numbers += 1;
        }
    }
}

void count_links(const json& shot, const json& file, const std::string& book, Count& count) {
    std::set<std::string> belongs;
    for (const std::string tag : shot.at("belongs_to")) {
        if (tag.rfind(book, 0) == 0) {
            belongs.insert(tag);
        }
    }
    const auto linked = linked_parts(file);
    count.shots += 1;
    count.linked_right += !linked.empty() && linked == belongs ? 1 : 0;
    for (const auto& tag : linked) {
        if (!belongs.contains(tag)) {
            UNSCOPED_INFO("linked wrongly: " << shot.at("file") << " to " << tag);
            count.linked_wrong += 1;
        }
    }
    count.needs_person += file.at("unsettled").is_null() ? 0 : 1;
}

void check_corners(const json& shot, const json& file) {
    for (const auto& s : file.at("sightings")) {
        for (const auto& tag : shot.at("tags")) {
            // A number from a QR code with few fiducials has rough corners; four fiducials pin the face.
            const std::string how = s.at("how");
            if (s.at("text") != tag.at("payload") || how.find("4 fiducials") == std::string::npos ||
                tag.at("grime") > 0.3) {
                continue;
            }
            for (std::size_t i = 0; i < 4; ++i) {
                const auto truth =
                    stored_corner(shot, tag.at("corners_px_unrotated")[i], file.at("height_px"));
                const double limit = 0.015 * 120 * tag.at("px_per_mm").get<double>() + 1;
                INFO(shot.at("file") << " " << tag.at("payload") << " corner " << i);
                CHECK(s.at("corners_px")[i][0] == Approx(truth[0]).margin(limit));
                CHECK(s.at("corners_px")[i][1] == Approx(truth[1]).margin(limit));
            }
        }
    }
}

}  // namespace

TEST_CASE("Camera cards become right links: every clear tag read, no wrong number, no wrong part", "[line]") {
    for (const auto& set : photo_sets()) {
        INFO("set " << set);
        const ScratchFolder scratch;
        const std::string book = (scratch / "book").string();
        REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
        if (fs::exists(set / "parts.csv")) {
            REQUIRE(run_stripbook({"parts", "import", (set / "parts.csv").string(), "--book", book}).status ==
                    0);
        }
        std::vector<std::string> dump{"dump", "--book", book};
        const auto cards = cards_of(set);
        dump.insert(dump.end(), cards.begin(), cards.end());
        const auto files = by_hash(stripbook_json(dump));
        Count count;
        const json truth = truth_of(set);
        for (const auto& shot : truth.at("shots")) {
            const auto file = files.find(shot.at("sha256"));
            REQUIRE(file != files.end());
            count_tags(shot, file->second, count);
            count_links(shot, file->second, "PET", count);
            check_corners(shot, file->second);
        }
        WARN(set.filename().string() << ": " << count.linked_right << " of " << count.shots
                                     << " photos linked right, " << count.linked_wrong << " wrong, "
                                     << count.needs_person << " need a person; tags read " << count.tags_read
                                     << " of " << count.tags << " (" << count.must_read - count.must_missed
                                     << " of " << count.must_read << " clear ones), " << count.wrong_numbers
                                     << " wrong numbers");
        CHECK(count.shots > 0);
        CHECK(count.must_missed == 0);
        CHECK(count.wrong_numbers == 0);
        CHECK(count.linked_wrong == 0);
        // A set with a parts list is a made day in which each photo has a part of its own.
        if (fs::exists(set / "parts.csv")) {
            CHECK(count.linked_right >= count.shots * 16 / 18);
        }
    }
}
