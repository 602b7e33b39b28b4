#include "book/part_path.h"

#include "book/history.h"
#include "book/path_overview.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::PathChange;

namespace {

struct Shop {
    ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    Shop() {
        add(417, "Running gear / Axle 1");
        add(418, "Running gear / Axle 2");
        add(419, "Frame");
    }
    void add(int serial, const std::string& assembly) {
        book::Part part(tag(serial));
        part.assembly = assembly;
        book::save_part(b, part, "Ana", "test");
    }
    void change(int serial, const PathChange& c) { book::change_path(b, tag(serial), c, "Ana"); }
    [[nodiscard]] std::string refused(int serial, const PathChange& c) {
        return message_of<WrongUse>([&] { change(serial, c); });
    }
    [[nodiscard]] std::vector<std::string> blocks(int serial) const {
        return book::what_blocks_refitting(*book::find_part(b, tag(serial)), book::path_of(b, tag(serial)),
                                           book::works_of(b, tag(serial)));
    }
};

PathChange path(const std::string& word, const std::string& why) {
    PathChange change;
    change.path = word;
    change.why = why;
    change.by = "Ben";
    return change;
}

}  // namespace

TEST_CASE("A path has its reason, and a part that is bought its order", "[book]") {
    Shop shop;
    shop.change(417, path("buy", "worn beyond repair"));
    PathChange order;
    order.from_whom = "Fenny Foundry";
    order.price_cents = 1250;
    order.ordered_on = "2026-11-20";
    shop.change(417, order);
    const auto record = book::path_of(shop.b, tag(417));
    CHECK(record.why == "worn beyond repair");
    CHECK(record.by == "Ben");
    CHECK(record.price_cents == 1250);
    CHECK(book::find_part(shop.b, tag(417))->path == "buy");
    CHECK(shop.blocks(417) == std::vector<std::string>{"ordered 2026-11-20, not received"});
    PathChange received;
    received.received_on = "2026-11-19";
    CHECK_THAT(shop.refused(417, received), Catch::Contains("before ordered"));
    received.received_on = "2026-11-25";
    shop.change(417, received);
    CHECK(shop.blocks(417).empty());
    const auto history = book::history_of(shop.b, "PET-00417-D");
    CHECK(history.back().field == "path: received");
    CHECK(history.back().after == "2026-11-25");
}

TEST_CASE("Details that a path does not take are refused, and another path begins anew", "[book]") {
    Shop shop;
    CHECK_THAT(shop.refused(417, path("repair", "")), Catch::Contains("--why"));
    CHECK_THAT(shop.refused(417, path("sell", "x")), Catch::Contains("\"sell\" is not a path"));
    auto scrap = path("scrap", "broken");
    scrap.received_on = "2026-11-25";
    CHECK_THAT(shop.refused(417, scrap),
               Catch::Contains("\"received\" belongs to the path buy, repair or make"));
    auto repair = path("repair", "worn");
    repair.drawing = "D 12";
    CHECK_THAT(shop.refused(417, repair), Catch::Contains("\"drawing\" belongs to the path make"));
    CHECK(book::find_part(shop.b, tag(417))->path == "undecided");
    auto make = path("make", "missing");
    make.drawing = "D 12";
    make.material = "bronze";
    shop.change(417, make);
    shop.change(417, path("use again", "found in the store"));
    CHECK(book::path_of(shop.b, tag(417)).drawing.empty());
    // A parts list changes the path and knows nothing of the reasons.
    auto part = *book::find_part(shop.b, tag(417));
    part.path = "hold";
    book::save_part(shop.b, part, "Ana", "parts import list.csv");
    CHECK(book::path_of(shop.b, tag(417)).why.empty());
}

TEST_CASE("Work blocks refitting until it is done or dropped", "[book]") {
    Shop shop;
    shop.change(417, path("repair", "worn"));
    CHECK(shop.blocks(417) == std::vector<std::string>{"not repaired"});
    const auto bush = book::add_work(shop.b, tag(417), "bush and ream", 3, "Ana");
    const auto paint = book::add_work(shop.b, tag(417), "paint", std::nullopt, "Ana");
    CHECK(shop.blocks(417) ==
          std::vector<std::string>{"work to do: bush and ream, 3 h", "work to do: paint"});
    book::end_work(shop.b, tag(417), bush, {"2026-11-25", "Ben", 4, ""}, "Ana");
    book::end_work(shop.b, tag(417), paint, {"", "", std::nullopt, "comes later"}, "Ana");
    CHECK(shop.blocks(417).empty());
    const auto works = book::works_of(shop.b, tag(417));
    CHECK(book::words_of(works.at(0)) == "bush and ream, 3 h; done 2026-11-25 by Ben in 4 h");
    CHECK(book::words_of(works.at(1)) == "paint; dropped: comes later");
    CHECK_THROWS_AS(book::end_work(shop.b, tag(417), bush, {"2026-11-25", "", {}, ""}, "Ana"), WrongUse);
    CHECK_THROWS_AS(book::end_work(shop.b, tag(418), bush, {"2026-11-25", "", {}, ""}, "Ana"), WrongUse);
    CHECK_THROWS_AS(book::add_work(shop.b, tag(417), "x", -1, "Ana"), WrongUse);
    CHECK_THROWS_AS(book::add_work(shop.b, tag(417), "", 1, "Ana"), WrongUse);
}

TEST_CASE("The overview counts, adds up by assembly, and names what waits", "[book]") {
    Shop shop;
    auto buy = path("buy", "missing");
    buy.price_cents = 1250;
    shop.change(417, buy);
    auto repair = path("repair", "worn");
    repair.price_cents = 5;
    shop.change(418, repair);
    book::end_work(shop.b, tag(418), book::add_work(shop.b, tag(418), "bush", 3, "Ana"),
                   {"2026-11-25", "", 4.5, ""}, "Ana");
    book::add_work(shop.b, tag(418), "ream", 1.5, "Ana");
    auto overview = book::path_overview(shop.b, 0);
    CHECK(overview.parts == 3);
    CHECK(overview.by_path["buy"] == 1);
    CHECK(overview.by_path["undecided"] == 1);
    CHECK(overview.blocked.size() == 3);
    REQUIRE(overview.sums.size() == 5);
    const auto& all = overview.sums[0];
    CHECK(all.assembly.empty());
    CHECK(all.price_cents == 1255);
    CHECK(all.hours_planned == 4.5);
    CHECK(all.hours_open == 1.5);
    CHECK(all.hours_taken == 4.5);
    CHECK(overview.sums[2].assembly == "Running gear");
    CHECK(overview.sums[2].parts == 2);
    CHECK(overview.sums[3].assembly == "Running gear / Axle 1");
    CHECK(overview.sums[3].price_cents == 1250);
    CHECK(overview.waiting.size() == 1);
    CHECK(book::path_overview(shop.b, 14).waiting.empty());
    // Twenty days ago, as another program writes it.
    sqlite3_of(shop.scratch / "petrel" / "book.db",
               "INSERT INTO history (at, who, what, field, before, after, how) VALUES "
               "(strftime('%Y-%m-%dT%H:%M:%SZ', 'now', '-20 days'), 'Ana', '" +
                   tag(419).text() + "', 'path', 'hold', 'undecided', 'path')");
    const auto waiting = book::path_overview(shop.b, 14).waiting;
    REQUIRE(waiting.size() == 1);
    CHECK(waiting[0].part.tag == tag(419));
    CHECK(waiting[0].days == 20);
    CHECK(book::path_overview(shop.b, 21).waiting.empty());
}
