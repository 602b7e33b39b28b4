// Reading again after an update: what an older version read is set up with the sqlite3 command.
#include <catch2/catch.hpp>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;

namespace {

struct DumpedBook {
    DumpedBook() : book((scratch / "book").string()), card(scratch / "card") {
        REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
        card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
        card.floor("DCIM/100AAAAA/AAAA0002.JPG", "2026:03:20 09:00:20");
        card.tag_shot("DCIM/100AAAAA/AAAA0003.JPG", "PET-00424", "2026:03:20 09:05:00");
        card.floor("DCIM/100AAAAA/AAAA0004.JPG", "2026:03:20 09:05:20");
        REQUIRE(run_stripbook({"dump", card.text(), "--book", book}).status == 0);
    }
    void sql(const std::string& text) const {
        const Ran ran = run({"sqlite3", book + "/book.db", text});
        INFO(ran.err);
        REQUIRE(ran.status == 0);
    }
    [[nodiscard]] json again(const std::vector<std::string>& more = {}) const {
        std::vector<std::string> words{"read", "--again", "--book", book};
        words.insert(words.end(), more.begin(), more.end());
        return stripbook_json(words);
    }
    ScratchFolder scratch;
    std::string book;
    MadeCard card;
};

}  // namespace

TEST_CASE("What this version read is not read again unless every photo is asked for", "[line]") {
    const DumpedBook b;
    CHECK(b.again().at("read") == 0);
    const json all = b.again({"--all"});
    CHECK(all.at("read") == 4);
    CHECK(all.at("changed").empty());
    CHECK(all.at("linked").empty());
    CHECK(all.at("unlinked").empty());
}

TEST_CASE("A photo that an older version could not read is read again, and the links follow", "[line]") {
    const DumpedBook b;
    b.sql("DELETE FROM sighting WHERE photo = 3; UPDATE photo SET read_by = 1 WHERE number = 3;");
    const json answer = b.again();
    CHECK(answer.at("read") == 1);
    REQUIRE(answer.at("changed").size() == 1);
    CHECK(answer.at("changed")[0].at("photo") == "p3");
    CHECK(answer.at("changed")[0].at("before") == "nothing");
    CHECK_THAT(answer.at("changed")[0].at("after").get<std::string>(), Contains("PET-00424-"));
    CHECK(b.again().at("read") == 0);
}

TEST_CASE("Reading again never undoes a person's word", "[line]") {
    const DumpedBook b;
    REQUIRE(run_stripbook({"unlink", "p1", "417", "--book", b.book}).status == 0);
    REQUIRE(run_stripbook({"link", "p4", "417", "--book", b.book}).status == 0);
    REQUIRE(run_stripbook({"stage", "p2", "cleaned", "--book", b.book}).status == 0);
    const auto part = [&](const std::string& tag) {
        return stripbook_json({"parts", "show", tag, "--book", b.book}).at("photos");
    };
    const json before_417 = part("417");
    const json before_424 = part("424");
    b.sql("DELETE FROM sighting; UPDATE photo SET read_by = 0;");
    CHECK(b.again().at("read") == 4);
    CHECK(part("417") == before_417);
    CHECK(part("424") == before_424);
}

TEST_CASE("Read without --again is refused with what to say", "[line]") {
    const DumpedBook b;
    const Ran ran = run_stripbook({"read", "--book", b.book});
    CHECK(ran.status == 2);
    CHECK_THAT(ran.err, Contains("--again"));
    const Ran words = run_stripbook({"read", "--again", "--all", "--book", b.book});
    CHECK(words.status == 0);
    CHECK_THAT(words.out, Contains("4 photos read again, 0 with another result"));
}
