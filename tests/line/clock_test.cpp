// The time as a picture, a card with a photo of it, and what becomes of the cameras' clocks.
#include <catch2/catch.hpp>
#include <ctime>
#include <fstream>
#include <sstream>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;

namespace {

std::string first_line(const Ran& ran) {
    INFO(ran.err);
    REQUIRE(ran.status == 0);
    return ran.out.substr(0, ran.out.find('\n'));
}

// Seconds since 1970 by GNU date, in any of its forms and a time zone.
long long seconds_by_date(const std::string& text, const std::string& zone = "UTC") {
    return std::stoll(first_line(run({"env", "TZ=" + zone, "date", "-d", text, "+%s"})));
}

std::string exif_time(long long seconds) {
    return first_line(run({"date", "-u", "-d", "@" + std::to_string(seconds), "+%Y:%m:%d %H:%M:%S"}));
}

void exif(const std::filesystem::path& file, const std::string& field, const std::string& value) {
    const Ran ran = run({"exiv2", "-M", "set Exif." + field + " " + value, file.string()});
    INFO(ran.err);
    REQUIRE(ran.status == 0);
}

struct DumpedBook {
    DumpedBook() : book((scratch / "book").string()), card(scratch / "card") {
        REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
    }
    void dump() const { run_stripbook({"dump", card.text(), "--book", book}); }
    [[nodiscard]] json cameras() const { return stripbook_json({"cameras", "--book", book}).at("cameras"); }
    [[nodiscard]] json photo(const std::string& tag, std::size_t index) const {
        return stripbook_json({"parts", "show", tag, "--book", book}).at("photos").at(index);
    }
    [[nodiscard]] Ran say(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return run_stripbook(words);
    }
    ScratchFolder scratch;
    std::string book;
    MadeCard card;
};

// The modules of the block characters, enlarged, as a portable grey map.
void write_blocks(const std::string& shown, const std::filesystem::path& file) {
    constexpr int px = 8;
    std::vector<std::string> rows;
    std::istringstream in(shown);
    for (std::string line; std::getline(in, line) && line.rfind("\x1b[30;107m", 0) == 0;) {
        std::string upper;
        std::string lower;
        for (std::size_t i = 9; i < line.size() && line[i] != '\x1b';) {
            const std::string c = line[i] == ' ' ? " " : line.substr(i, 3);
            const bool full = c == "\u2588";
            upper += full || c == "\u2580" ? '\0' : '\xff';
            lower += full || c == "\u2584" ? '\0' : '\xff';
            i += c.size();
        }
        rows.push_back(upper);
        rows.push_back(lower);
    }
    REQUIRE(rows.size() > 20);
    std::ofstream out(file, std::ios::binary);
    out << "P5 " << rows[0].size() * px << " " << rows.size() * px << " 255\n";
    for (const auto& row : rows) {
        for (int copy = 0; copy < px; ++copy) {
            for (const char c : row) {
                out << std::string(px, c);
            }
        }
    }
}

}  // namespace

TEST_CASE("The clock's picture and its block characters are read by zbarimg and say the time now", "[line]") {
    const ScratchFolder scratch;
    const auto png = scratch / "clock.png";
    const auto before = std::time(nullptr);
    const json answer = stripbook_json({"clock", "--once", "--out", png.string()});
    const std::string text = first_line(run({"zbarimg", "-q", "--raw", png.string()}));
    CHECK(text == answer.at("text"));
    REQUIRE(text.rfind("TIME ", 0) == 0);
    const long long said = seconds_by_date(text.substr(5));
    CHECK(said >= before);
    CHECK(said <= std::time(nullptr));
    const Ran shown = run_stripbook({"clock", "--once"});
    REQUIRE(shown.status == 0);
    write_blocks(shown.out, scratch / "blocks.pgm");
    CHECK_THAT(first_line(run({"zbarimg", "-q", "--raw", (scratch / "blocks.pgm").string()})),
               Contains("TIME ") && Contains("Z"));
    CHECK(run_stripbook({"clock", "--once", "--out", "/nowhere/clock.png"}).status == 3);
}

TEST_CASE("A photo of the clock sets its camera's photos right, before and after", "[line]") {
    const DumpedBook b;
    const auto png = b.scratch / "clock.png";
    const json shown = stripbook_json({"clock", "--once", "--out", png.string()});
    const long long true_s = seconds_by_date(shown.at("text").get<std::string>().substr(5));
    // The camera is 7:03 ahead.
    b.card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", exif_time(true_s + 423 - 600));
    b.card.floor("DCIM/100AAAAA/AAAA0002.JPG", exif_time(true_s + 423));
    const auto photo = b.card.path() / "DCIM/100AAAAA/AAAA0002.JPG";
    REQUIRE(run({"convert", photo.string(), "(", png.string(), "-resize", "300x300", ")", "-gravity",
                 "center", "-composite", photo.string()})
                .status == 0);
    exif(photo, "Photo.DateTimeOriginal", exif_time(true_s + 423));
    b.dump();
    const json camera = b.cameras().at(0);
    REQUIRE(camera.at("clock").size() == 1);
    CHECK(camera.at("clock")[0].at("ahead_s").get<double>() == Approx(423).margin(0.01));
    CHECK(camera.at("clock")[0].at("u_s").get<double>() < 0.7);
    CHECK_THAT(camera.at("clock")[0].at("how").get<std::string>(), Contains("clock shot p"));
    const json first = b.photo("417", 0);
    CHECK(seconds_by_date(first.at("utc").get<std::string>()) == true_s - 600);
    CHECK(first.at("utc_u_s").get<double>() < 0.7);
    CHECK_THAT(b.say({"cameras"}).out, Contains("7:03 ahead, give or take 0:01"));
}

TEST_CASE("EXIF 2.31 offsets and sub-seconds as exiv2 writes them give the true time", "[line]") {
    const DumpedBook b;
    REQUIRE(b.say({"set", "time zone", "Europe/Berlin"}).status == 0);
    b.card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", "2026:07:01 12:00:00");
    const auto file = b.card.path() / "DCIM/100AAAAA/AAAA0001.JPG";
    exif(file, "Photo.OffsetTimeOriginal", "-03:30");
    exif(file, "Photo.SubSecTimeOriginal", "25");
    b.card.tag_shot("DCIM/100AAAAA/AAAA0002.JPG", "PET-00424", "2026:07:01 12:00:00", "B2");
    b.dump();
    const json told = b.photo("417", 0);
    CHECK(told.at("utc") == "2026-07-01T15:30:00.25Z");
    CHECK(told.at("camera_time") == "2026-07-01T12:00:00.25");
    CHECK(told.at("corrected_time") == "2026-07-01T17:30:00.25");
    // Without an offset it is the workshop's time, and an hour of doubt.
    const json guessed = b.photo("424", 0);
    CHECK(seconds_by_date(guessed.at("utc").get<std::string>()) ==
          seconds_by_date("2026-07-01 12:00:00", "Europe/Berlin"));
    CHECK(guessed.at("utc_u_s").get<double>() >= 3600);
    CHECK(guessed.at("corrected_time") == "2026-07-01T12:00:00");
    // Another zone: both go with it, at once.
    const Ran moved = b.say({"set", "time zone", "Europe/London"});
    CHECK(moved.status == 0);
    CHECK_THAT(moved.out, Contains("2 photos have now another time"));
    CHECK(b.photo("417", 0).at("corrected_time") == "2026-07-01T16:30:00.25");
    CHECK(seconds_by_date(b.photo("424", 0).at("utc").get<std::string>()) ==
          seconds_by_date("2026-07-01 12:00:00", "Europe/London"));
    // UTC that a person set is UTC, whatever offsets the photos say.
    CHECK(b.say({"set", "time zone", "UTC"}).status == 0);
    CHECK(b.photo("417", 0).at("corrected_time") == "2026-07-01T15:30:00.25");
}

TEST_CASE("A person names cameras, says how wrong their clocks are, and joins and splits them", "[line]") {
    const DumpedBook b;
    b.card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
    b.card.tag_shot("DCIM/100AAAAA/AAAA0002.JPG", "PET-00424", "2026:03:20 09:05:00", "B2");
    b.dump();
    REQUIRE(b.cameras().size() == 2);
    // Photos are read side by side, so either camera may be the first.
    const bool turned = b.cameras()[0].at("serial") == "B2";
    const std::string one = turned ? "2" : "1";
    const std::string two = turned ? "1" : "2";
    const auto clock_of_two = [&] { return b.cameras().at(turned ? 0 : 1); };
    CHECK(b.say({"cameras", "name", two, "Ana's camera"}).status == 0);
    const Ran said = b.say({"cameras", "ahead", "ana's camera", "7:03"});
    INFO(said.err);
    CHECK(said.status == 0);
    CHECK_THAT(said.out, Contains("7:03 ahead") && Contains("1 photo has now another time"));
    CHECK(b.photo("424", 0).at("corrected_time") == "2026-03-20T08:57:57");
    CHECK(b.photo("424", 0).at("camera_time") == "2026-03-20T09:05:00");
    CHECK(b.say({"cameras", "behind", two, "1:00:00", "--at", "2026-03-20 09:00", "--give-or-take", "2:00"})
              .status == 0);
    CHECK(b.photo("424", 0).at("corrected_time") == "2026-03-20T10:05:00");
    CHECK(clock_of_two().at("said")[0].at("u_s") == 120);
    CHECK_THAT(b.say({"cameras", "history", two}).out, Contains("7:03 ahead") && Contains("1:00:00 behind"));
    CHECK(b.say({"cameras", "ahead", two, "--clear"}).status == 0);
    CHECK(b.photo("424", 0).at("corrected_time") == "2026-03-20T09:05:00");
    CHECK(b.say({"cameras", "join", two, one}).status == 0);
    CHECK(b.cameras().size() == 1);
    CHECK(b.cameras()[0].at("photos") == 2);
    CHECK(b.say({"cameras", "split", two}).status == 0);
    CHECK(b.cameras().size() == 2);
    const std::string photo_of_two = b.photo("424", 0).at("photo");
    for (const auto& wrong :
         std::vector<std::vector<std::string>>{{"cameras", "ahead", "9", "7:03"},
                                               {"cameras", "ahead", two, "seven"},
                                               {"cameras", "ahead", two},
                                               {"cameras", "ahead", two, "7:03", "--at", "noon"},
                                               {"cameras", "ahead", two, "7:03", "--at", "p99"},
                                               {"cameras", "ahead", one, "7:03", "--at", photo_of_two},
                                               {"cameras", "join", two, two},
                                               {"cameras", "split", one},
                                               {"cameras", "name", one, "Ana's camera"}}) {
        const Ran ran = b.say(wrong);
        INFO(ran.out << ran.err);
        CHECK(ran.status == 2);
    }
}

TEST_CASE("Two cards of one day give the same times in either order", "[line]") {
    const ScratchFolder scratch;
    const MadeCard one(scratch / "one");
    const MadeCard two(scratch / "two");
    one.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
    one.tag_shot("DCIM/100AAAAA/AAAA0002.JPG", "PET-00424", "2026:03:20 10:00:00");
    two.tag_shot("DCIM/100AAAAA/AAAA0003.JPG", "PET-00431",
                 "2026:03:20 09:10:00");  // put back, or so it seems
    std::vector<std::string> times;
    for (const bool turned : {false, true}) {
        const std::string book = (scratch / (turned ? "b" : "a")).string();
        REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
        for (const auto& card : {turned ? two.text() : one.text(), turned ? one.text() : two.text()}) {
            run_stripbook({"dump", card, "--book", book});
        }
        std::string all;
        for (const char* tag : {"417", "424", "431"}) {
            const json photo = stripbook_json({"parts", "show", tag, "--book", book}).at("photos").at(0);
            all += photo.at("utc").get<std::string>() + " " + photo.at("corrected_time").get<std::string>() +
                   "\n";
        }
        CHECK(stripbook_json({"cameras", "--book", book}).at("cameras")[0].at("clock").size() == 2);
        times.push_back(all);
    }
    CHECK(times[0] == times[1]);
}

TEST_CASE("What a word on cameras changes of the links is listed, as after a late card", "[line]") {
    const ScratchFolder scratch;
    const std::string book = (scratch / "book").string();
    REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
    std::ofstream(scratch / "parts.csv") << "tag,name\n417,Axlebox cover\n";
    REQUIRE(run_stripbook({"parts", "import", (scratch / "parts.csv").string(), "--book", book}).status == 0);
    // One camera that wrote another serial number half-way through a part.
    const MadeCard card(scratch / "card");
    card.tag_shot("DCIM/101AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00", "A1");
    card.floor("DCIM/101AAAAA/AAAA0002.JPG", "2026:03:20 09:00:08", "A1");
    card.floor("DCIM/101AAAAA/AAAA0003.JPG", "2026:03:20 09:00:16", "B2");
    card.floor("DCIM/101AAAAA/AAAA0004.JPG", "2026:03:20 09:00:24", "B2");
    REQUIRE(run_stripbook({"dump", card.text(), "--book", book}).status == 1);
    const Ran joined = run_stripbook({"cameras", "join", "2", "1", "--book", book});
    INFO(joined.out << joined.err);
    CHECK(joined.status == 0);
    CHECK_THAT(joined.out,
               Contains("so p3 now belongs to PET-00417-D") && Contains("so p4 now belongs to PET-00417-D"));
    const nlohmann::json split = stripbook_json({"cameras", "split", "2", "--book", book});
    CHECK(split.at("changed_links").size() == 2);
    CHECK(split.at("changed_links").at(0).at("belongs") == false);
}
