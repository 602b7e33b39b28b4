// Undo, history and the tables out, by the built program; sqlite3 and Python's csv module look at the result.
#include <catch2/catch.hpp>

#include <fstream>
#include <set>
#include <sstream>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;
namespace fs = std::filesystem;

namespace {

constexpr const char* parts_csv =
    "tag,name,assembly,place,storage,path,drawing\n"
    "1,Brake block,Running gear / Axle 1,Bogie 1 / left,Rack A,use again,FV-1\n"
    "2,Axlebox cover,Running gear / Axle 1,Bogie 1 / axle 1,Rack B,undecided,=1+1\n"
    "3,Fuel tap,Engine,Tank / underneath,Tray 7,repair,-5\n";

// Three parts, two of them photographed, and a photo without a tag.
struct UndoBook {
    UndoBook() {
        REQUIRE(
            run_stripbook({"start", book, "--code", "PET", "--title", "Inspection railcar Petrel"}).status ==
            0);
        std::ofstream(scratch / "parts.csv") << parts_csv;
        REQUIRE(ran({"parts", "import", (scratch / "parts.csv").string()}).status == 0);
        const MadeCard card(scratch / "card");
        card.tag_shot("DCIM/100AAAAA/AAAA0001.JPG", "PET-00001", "2026:03:20 09:00:00");
        card.tag_shot("DCIM/100AAAAA/AAAA0002.JPG", "PET-00002", "2026:03:20 09:10:00");
        card.floor("DCIM/100AAAAA/AAAA0003.JPG", "2026:03:20 11:00:00");
        REQUIRE(ran({"dump", card.text()}).status <= 1);
    }
    [[nodiscard]] Ran ran(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return run_stripbook(words);
    }
    [[nodiscard]] json answer(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return stripbook_json(words);
    }
    [[nodiscard]] std::string database() const { return book + "/book.db"; }
    // All tables but the history, the acts, the numbers SQLite counts on, the index of words, and the groups,
    // whose old rows stay.
    [[nodiscard]] std::string rows() const {
        std::istringstream all(run({"sqlite3", "-batch", database(), ".dump"}).out);
        std::multiset<std::string> kept;  // links made anew come in another order
        for (std::string line; std::getline(all, line);) {
            const bool is_row = line.rfind("INSERT INTO", 0) == 0;
            bool passed_over = false;
            for (const char* table : {"history", "act", "sqlite_sequence", "word_index", "unsettled_group"}) {
                passed_over = passed_over || line.rfind(std::string("INSERT INTO ") + table, 0) == 0 ||
                              line.rfind(std::string("INSERT INTO '") + table, 0) == 0;
            }
            if (!is_row || !passed_over) {
                kept.insert(line);
            }
        }
        std::string rows;
        for (const auto& line : kept) {
            rows += line + "\n";
        }
        return rows;
    }
    [[nodiscard]] std::string sql(const std::string& text) const {
        return run({"sqlite3", "-batch", database(), text}).out;
    }

    ScratchFolder scratch;
    std::string book = (scratch / "book").string();
};

using Words = std::vector<std::string>;

}  // namespace

TEST_CASE("Undo restores every table, whatever a person did", "[line]") {
    const UndoBook b;
    // What some of the commands below take back or end.
    for (const Words& words : std::vector<Words>{{"hazard", "2", "sharp"},
                                                 {"work", "add", "3", "grind the seat", "--hours", "2"},
                                                 {"refit", "before", "1", "2"},
                                                 {"refit", "note", "1", "--match-marks", "A to A"},
                                                 {"inspect", "1", "--finding", "wear", "--where", "face"}}) {
        INFO(words.front());
        CHECK(b.ran(words).status <= 1);
    }
    std::ofstream(b.scratch / "more.csv")
        << "tag,name,parent,new heading\n2,Cover of the axlebox,1,x\n9,Lamp,2,y\n10,Lamp glass,9,z\n";
    std::ofstream(b.scratch / "bench.csv") << "tag,finding,where\n1,crack,lug\n2,wear,bore\n";
    const std::vector<Words> acts{
        {"parts", "import", (b.scratch / "more.csv").string()},
        {"parts", "move", "1", "2", "--to", "Bogie 2"},
        {"parts", "move", "3", "--under", "1"},
        {"parts", "move", "--assembly", "Running gear", "--to", "Gear"},
        {"parts", "expect", "Axlebox spring", "8", "--assembly", "Running gear"},
        {"parts", "bag", "1", "M12 x 40 bolt", "6"},
        {"store", "1", "2", "Rack C / shelf 2"},
        {"set", "time zone", "Europe/London"},
        {"set", "link time", "5"},
        {"hazard", "1", "heavy", "--mass", "180"},
        {"hazard", "2", "sharp", "--take-back"},
        {"inspect", "1", "--finding", "crack", "--where", "lower lug", "--how-bad", "through"},
        {"inspect", "1", "--reading", "bore", "45.02", "45.04", "--u", "0.01", "--instrument", "bore gauge"},
        {"inspect", "1", "--limit", "bore", "--at-most", "45.1", "--source", "drawing"},
        {"inspect", "1", "--finding", "crack", "--where", "upper lug", "--corrects", "1"},
        {"inspect", "--from", (b.scratch / "bench.csv").string()},
        {"path", "2", "repair", "--why", "worn", "--work", "bush", "--hours", "3"},
        {"path", "1", "buy", "--why", "lost", "--from", "Ferrow", "--price", "12.50"},
        {"work", "add", "3", "lap the cone"},
        {"work", "done", "3", "1", "--hours", "4"},
        {"work", "drop", "3", "1", "--why", "not needed"},
        {"link", "p3", "2"},
        {"unlink", "p2", "2"},
        {"stage", "p1", "cleaned"},
        {"stage", "PET-00001", "blasted", "--from", "2026-04-02"},
        {"refit", "before", "2", "3"},
        {"refit", "together", "1", "3"},
        {"refit", "forget", "1", "2"},
        {"refit", "done", "1"},
        {"refit", "note", "2", "--torque", "cap nuts", "45 N.m", "--source", "drawing 12"},
        {"cameras", "ahead", "1", "7:03"},
        {"cameras", "name", "1", "Bench camera"},
    };
    for (const auto& words : acts) {
        std::string typed;
        for (const auto& word : words) {
            typed += " " + word;
        }
        INFO(typed);
        const std::string before = b.rows();
        const Ran done = b.ran(words);
        INFO(done.err << done.out);
        CHECK(done.status <= 1);
        CHECK(b.rows() != before);
        const Ran undone = b.ran({"undo"});
        INFO(undone.err << undone.out);
        CHECK(undone.status == 0);
        CHECK(b.rows() == before);
        CHECK(b.sql("PRAGMA foreign_key_check; PRAGMA integrity_check") == "ok\n");
    }
    CHECK(b.sql("SELECT count(*) FROM sqlite_schema WHERE name = 'inspection_is_not_deleted'") == "1\n");
}

TEST_CASE("Undo says what it takes back, a second one takes back the one before, and the history tells it",
          "[line]") {
    const UndoBook b;
    REQUIRE(b.ran({"store", "1", "Rack Quince"}).status == 0);
    REQUIRE(b.ran({"refit", "done", "1", "--by", "Ben"}).status <= 1);
    const json list = b.answer({"undo", "--list"}).at("acts");
    REQUIRE(list.size() == 3);
    CHECK(list.at(0).at("command") == "refit done 1 --by Ben");
    CHECK(list.at(0).at("who") == "Ben");
    CHECK(list.at(2).at("command").get<std::string>().rfind("parts import", 0) == 0);

    CHECK_THAT(b.ran({"undo", "--by", "Ana"}).out, Contains("taken back: refit done 1 --by Ben"));
    CHECK_THAT(b.ran({"undo"}).out,
               Contains("PET-00001-O: storage is \"Rack A\" again, not \"Rack Quince\""));
    const std::string life = b.ran({"history", "1"}).out;
    CHECK_THAT(life, Contains("the record was made") &&
                         Contains("stored at \"Rack Quince\", before: \"Rack A\"") &&
                         Contains("Ben: put back in its place (refitted)") &&
                         Contains("Ana: undone, so again: not in place any more") &&
                         Contains("undone, so again: stored at \"Rack A\"") && Contains("2026-03-20 09:00") &&
                         Contains("taken off the machine"));
    CHECK(life.find("taken off the machine") < life.find("the record was made"));
    CHECK_THAT(b.ran({"history", "--last", "1"}).out, Contains("undone, so again: stored at \"Rack A\""));
    CHECK(b.answer({"history", "--last", "3"}).at("events").size() == 3);
    CHECK(b.ran({"history", "99"}).status == 2);
    // Words are found as they are again.
    CHECK(b.ran({"find", "Rack", "A"}).status == 0);
    CHECK(b.ran({"find", "Rack", "Quince"}).status == 1);
}

TEST_CASE("What came later stands in the way of undo, and is named, and nothing is changed", "[line]") {
    const UndoBook b;
    // The import came before the card: undo does not guess.
    const Ran after_card = b.ran({"undo"});
    CHECK(after_card.status == 2);
    CHECK_THAT(after_card.err, Contains("the last thing done cannot be taken back: the card") &&
                                   Contains("stripbook undo 1"));
    REQUIRE(b.ran({
                      "store",
                      "1",
                      "Rack C",
                  })
                .status == 0);
    REQUIRE(b.ran({"store", "1", "Rack D"}).status == 0);
    const std::string before = b.rows();
    const Ran refused = b.ran({"undo", "2"});
    CHECK(refused.status == 2);
    CHECK_THAT(refused.err, Contains("PET-00001-O") && Contains("storage is \"Rack D\" now") &&
                                Contains("nothing was changed"));
    // A record that rests on a new part keeps it.
    std::ofstream(b.scratch / "lamp.csv") << "tag,name\n9,Lamp\n";
    REQUIRE(b.ran({"parts", "import", (b.scratch / "lamp.csv").string()}).status == 0);
    REQUIRE(b.ran({"hazard", "9", "sharp"}).status == 0);
    const Ran rests = b.ran({"undo", "4"});
    CHECK(rests.status == 2);
    CHECK_THAT(rests.err, Contains("PET-00009-") && Contains("(hazard)") && Contains("rests on it"));
    REQUIRE(b.ran({"undo"}).status == 0);
    REQUIRE(b.ran({"undo"}).status == 0);
    CHECK(b.rows() == before);
    CHECK(b.ran({"undo", "77"}).status == 2);
    CHECK(b.ran({"undo", "soon"}).status == 2);
    REQUIRE(b.ran({"tags", "--count", "3", "--out", (b.scratch / "tags.pdf").string()}).status == 0);
    CHECK_THAT(b.ran({"undo"}).err, Contains("tags were printed"));
}

TEST_CASE("A decision on a group that waited is undone with its group", "[line]") {
    const UndoBook b;
    const json waiting = b.answer({"unsettled"});
    REQUIRE(waiting.at("groups").size() == 1);
    const std::string before = b.rows();
    for (const char* decision : {"2", "none"}) {
        REQUIRE(b.ran({"settle", "1", decision == std::string("2") ? "PET-00002" : decision}).status == 0);
        CHECK(b.answer({"unsettled"}).at("groups").empty());
        REQUIRE(b.ran({"undo"}).status == 0);
        CHECK(b.rows() == before);
        CHECK(b.answer({"unsettled"}) == waiting);
    }
}

TEST_CASE("The tables out are read back cell by cell, and defused", "[line]") {
    const UndoBook b;
    REQUIRE(b.ran({"hazard", "1", "heavy", "--note", "@SUM(A1), \"two\" lugs"}).status == 0);
    REQUIRE(b.ran({"link", "p3", "2"}).status == 0);
    const std::string folder = (b.scratch / "out").string();
    const json answer = b.answer({"export", folder});
    CHECK(b.ran({"export", folder}).status == 2);
    CHECK_FALSE(fs::exists(folder + ".unfinished"));

    const json whole = json::parse(std::ifstream(folder + "/book.json"));
    for (const auto& table : answer.at("tables")) {
        const auto name = table.at("table").get<std::string>();
        INFO(name);
        CHECK(whole.at(name).size() == table.at("rows").get<std::size_t>());
        // Python's csv module, each cell against the JSON; parts.csv has columns of its own.
        const Ran python =
            run({"python3", "-c",
                 "import csv, json, sys\n"
                 "rows = list(csv.DictReader(open(sys.argv[1], newline='', encoding='utf-8')))\n"
                 "want = json.load(open(sys.argv[2], encoding='utf-8'))[sys.argv[3]]\n"
                 "assert len(rows) == len(want), (len(rows), len(want))\n"
                 "def same(cell, value):\n"
                 "    if value is None: return cell == ''\n"
                 "    if isinstance(value, (int, float)): return float(cell) == float(value)\n"
                 "    return cell == value or cell == chr(39) + value\n"
                 "for row, wanted in zip(rows, want):\n"
                 "    if sys.argv[3] == 'parts': continue\n"
                 "    assert list(row) == list(wanted)\n"
                 "    for key in row: assert same(row[key], wanted[key]), (key, row[key], wanted[key])\n",
                 folder + "/" + name + ".csv", folder + "/book.json", name});
        CHECK(python.err.empty());
        CHECK(python.status == 0);
        if (table.at("rows") != 0) {
            CHECK(run({"sqlite3", "-batch", ":memory:", ".import --csv '" + folder + "/" + name + ".csv' t",
                       "SELECT count(*) FROM t"})
                      .out == std::to_string(table.at("rows").get<int>()) + "\n");
        }
    }
    const auto count = [&](const std::string& table) {
        return std::to_string(whole.at(table).size()) + "\n";
    };
    CHECK(b.sql("SELECT count(*) FROM photo") == count("photos"));
    CHECK(b.sql("SELECT count(*) FROM history") == count("history"));
    CHECK(whole.at("photos").at(0).at("camera_time") == "2026-03-20T09:00:00");
    CHECK(whole.at("links").at(2).at("by_person") == 1);
    CHECK_THAT(bytes_of(folder + "/hazard.csv"), Contains("\"'@SUM(A1), \"\"two\"\" lugs\""));
    const std::string parts = bytes_of(folder + "/parts.csv");
    CHECK_THAT(parts, Contains(",'=1+1\r\n") && Contains(",-5\r\n"));

    // Into an empty book: the same records.
    const std::string other = (b.scratch / "other").string();
    REQUIRE(run_stripbook({"start", other, "--code", "PET", "--title", "x"}).status == 0);
    REQUIRE(run_stripbook({"parts", "import", folder + "/parts.csv", "--book", other}).status == 0);
    CHECK(run({"sqlite3", "-batch", other + "/book.db", "SELECT * FROM part"}).out ==
          b.sql("SELECT * FROM part"));
}
