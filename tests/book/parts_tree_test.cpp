#include "book/parts_tree.h"

#include "book/history.h"
#include "book/parts_csv.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::assembly_levels;
using book::Move;

namespace {

struct Gear {
    ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    Gear() {
        add(1, "Running gear / Axle 1");
        add(2, "Running gear / Axle 1 / Brake gear");
        add(3, "Frame");
    }
    void add(int serial, const std::string& assembly) {
        book::Part part(tag(serial));
        part.assembly = assembly;
        book::save_part(b, part, "Ana", "test");
    }
    [[nodiscard]] book::Part part(int serial) const { return *book::find_part(b, tag(serial)); }
    void under(int child, int parent) {
        book::move_parts(b, {tag(child)}, {std::nullopt, tag(parent)}, "Ana");
    }
};

}  // namespace

TEST_CASE("An assembly has its levels between slashes, and a fraction's slash parts nothing", "[book]") {
    CHECK(assembly_levels("Running gear / Axle 2/Brake gear") ==
          std::vector<std::string>{"Running gear", "Axle 2", "Brake gear"});
    CHECK(assembly_levels("Pipework / Valve 1/2 in") == std::vector<std::string>{"Pipework", "Valve 1/2 in"});
    CHECK(assembly_levels(" / ").empty());
    CHECK(book::lies_within("running gear / Axle 2", "Running Gear"));
    CHECK_FALSE(book::lies_within("Running gear", "Running gear / Axle 2"));
    CHECK_FALSE(book::lies_within("Running gears", "Running gear"));
}

TEST_CASE("A part moves with what was taken from it, and the history says so", "[book]") {
    Gear gear;
    gear.under(2, 1);
    CHECK(gear.part(2).parent == tag(1));
    CHECK(gear.part(2).assembly == "Running gear / Axle 1");  // a parent brings its assembly along
    book::move_parts(gear.b, {tag(2)}, {"Running gear / Axle 1 / Brake gear", std::nullopt}, "Ana");
    const auto changed = book::move_parts(gear.b, {tag(1)}, {"Running gear/Axle 3", std::nullopt}, "Ben");
    CHECK(changed.size() == 2);
    CHECK(gear.part(1).assembly == "Running gear / Axle 3");
    CHECK(gear.part(2).assembly == "Running gear / Axle 3 / Brake gear");
    const auto last = book::history_of(gear.b, tag(2).text()).back();
    CHECK(last.field == "assembly");
    CHECK(last.before == "Running gear / Axle 1 / Brake gear");
    CHECK(last.who == "Ben");
    CHECK(sqlite3_of(gear.scratch / "petrel" / "book.db",
                     "SELECT parent FROM part WHERE tag = '" + tag(2).text() + "'") == tag(1).text());
}

TEST_CASE("A circle is refused part by part, and nothing is moved", "[book]") {
    Gear gear;
    gear.under(2, 1);
    gear.under(3, 2);
    CHECK(message_of<WrongUse>([&] { gear.under(1, 3); }) ==
          "this goes round in a circle: " + tag(1).text() + " from " + tag(3).text() + " from " +
              tag(2).text() + " from " + tag(1).text() + "; nothing was moved");
    CHECK_FALSE(gear.part(1).parent);
    CHECK_THAT(message_of<WrongUse>([&] { gear.under(1, 1); }), Catch::Contains("circle"));
    CHECK_THAT(message_of<WrongUse>([&] { gear.under(1, 9); }), Catch::Contains(tag(9).text()));
    CHECK_THAT(message_of<WrongUse>([&] { gear.under(9, 1); }), Catch::Contains(tag(9).text()));
}

TEST_CASE("An assembly is renamed with everything in it", "[book]") {
    Gear gear;
    CHECK(book::move_assembly(gear.b, "running gear", "Bogie 1 / Running gear", "Ana").size() == 2);
    CHECK(gear.part(2).assembly == "Bogie 1 / Running gear / Axle 1 / Brake gear");
    CHECK_THAT(message_of<WrongUse>([&] { book::move_assembly(gear.b, "Engine", "X", "Ana"); }),
               Catch::Contains("no part lies in the assembly \"Engine\""));
}

TEST_CASE("A parts list tells parents in any order, and its circles are named by their line", "[book]") {
    Gear gear;
    const auto file = gear.scratch / "parts.csv";
    const auto plan = [&](const std::string& csv) {
        write_file(file, csv);
        return book::plan_import(gear.b, file);
    };
    book::apply_import(gear.b, plan("tag,parent\n4,5\n5,1\n"), "Ana", "test");
    CHECK(gear.part(4).parent == tag(5));
    CHECK_THAT(book::export_parts(gear.b),
               Catch::Contains(tag(5).text() + ",") && Catch::Contains("," + tag(1).text()));
    CHECK_THAT(message_of<BadFile>([&] { plan("tag,parent\n1,4\n"); }),
               Catch::StartsWith("parts.csv line 2: this goes round in a circle") &&
                   Catch::Contains("nothing was taken in"));
    CHECK_THAT(message_of<BadFile>([&] { plan("tag,parent\n6,\n1,77\n"); }),
               Catch::StartsWith("parts.csv line 3: the parent " + tag(77).text()));
    CHECK_THAT(message_of<BadFile>([&] { plan("tag,parent\n6,hook\n"); }), Catch::Contains("parent: "));
}
