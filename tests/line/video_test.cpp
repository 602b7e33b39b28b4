// A card with videos through the whole line.
#include <catch2/catch.hpp>
#include <opencv2/imgcodecs.hpp>

#include "made_card.h"
#include "made_video.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;

namespace {

struct VideoCard {
    VideoCard() : book((scratch / "book").string()), card(scratch / "card") {
        REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
        card.tag_shot(folder + "AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
        card.tag_shot("../tag.jpg", "PET-00424", "2026:03:20 09:00:00");
        card.floor("../floor.jpg", "2026:03:20 09:00:00");
        const cv::Mat tag = cv::imread((scratch / "tag.jpg").string());
        const cv::Mat floor = cv::imread((scratch / "floor.jpg").string());
        write_video(card.path() / (folder + "AAAA0002.AVI"), {{floor, 2}});
        write_video(card.path() / (folder + "AAAA0003.AVI"), {{floor, 0.5}, {tag, 1}});
        write_video(card.path() / (folder + "AAAA0004.AVI"), {{floor, 3}});
        taken("AAAA0001.JPG", "09:00:00");
        taken("AAAA0002.AVI", "09:00:30");
        taken("AAAA0003.AVI", "09:01:00");
        taken("AAAA0004.AVI", "09:01:40");
    }
    // What the camera would have written as the file's time; the camera's clock is an hour ahead.
    void taken(const std::string& name, const std::string& time) const {
        REQUIRE(
            run({"touch", "-d", "2026-03-20T" + time + "+01:00", (card.path() / (folder + name)).string()})
                .status == 0);
    }
    [[nodiscard]] json dumped() const {
        std::map<std::string, json> by_name;
        const json answer = stripbook_json({"dump", card.text(), "--book", book});
        json files;
        for (const auto& file : answer.at("cards").at(0).at("files")) {
            files[file.at("name").get<std::string>().substr(folder.size())] = file;
        }
        return files;
    }
    const std::string folder = "DCIM/100AAAAA/";
    ScratchFolder scratch;
    std::string book;
    MadeCard card;
};

std::string linked(const json& file) {
    std::string text;
    for (const auto& link : file.at("links")) {
        text += link.dump();
    }
    return text;
}

}  // namespace

TEST_CASE("Videos find their part by time and by the tag in their first seconds", "[line][video]") {
    const VideoCard c;
    const json files = c.dumped();
    INFO(files.dump(1));
    CHECK_THAT(linked(files.at("AAAA0002.AVI")), Contains("PET-00417-") && Contains("follows"));
    CHECK_THAT(linked(files.at("AAAA0003.AVI")), Contains("PET-00424-") && Contains("at 0.5 s"));
    CHECK_THAT(linked(files.at("AAAA0004.AVI")), Contains("PET-00424-") && Contains("follows"));
    for (const char* name : {"AAAA0002.AVI", "AAAA0003.AVI", "AAAA0004.AVI"}) {
        const json& file = files.at(name);
        CHECK(file.at("read") == "read");
        CHECK(file.at("kind") == "video");
        const auto poster = c.book + "/derived/posters/" + file.at("photo").get<std::string>() + ".jpg";
        const Ran identified = run({"identify", "-format", "%m %wx%h", poster});
        CHECK(identified.out == "JPEG 800x600");
    }
    CHECK(stripbook_json({"read", "--again", "--book", c.book}).at("read") == 0);
    CHECK(run_stripbook({"report", "424", "--book", c.book, "--date", "2026-11-25"}).status == 0);
}

TEST_CASE("A video cut short costs a note, and its card is not called wipeable", "[line][video]") {
    const VideoCard c;
    const auto file = c.card.path() / (c.folder + "AAAA0002.AVI");
    std::filesystem::resize_file(file, std::filesystem::file_size(file) / 2);
    c.taken("AAAA0002.AVI", "09:00:30");
    const json files = c.dumped();
    INFO(files.dump(1));
    CHECK(files.at("AAAA0002.AVI").at("read") == "damaged");
    CHECK_THAT(files.at("AAAA0002.AVI").at("read_note").get<std::string>(), Contains("cut short"));
    CHECK_FALSE(files.at("AAAA0002.AVI").at("unsettled").is_null());
    CHECK_THAT(linked(files.at("AAAA0003.AVI")), Contains("PET-00424-"));
    const Ran words = run_stripbook({"dump", c.card.text(), "--book", c.book});
    CHECK_THAT(words.out, Contains("do NOT wipe the card: 1 file copied, but not readable"));
}
