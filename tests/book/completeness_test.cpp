#include "book/completeness.h"

#include "book/history.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

struct Machine {
    ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    void add(int serial, const std::string& name, const std::string& assembly, std::optional<int> expected,
             std::optional<int> present, const std::string& storage = "") {
        book::Part part(tag(serial));
        part.name = name;
        part.assembly = assembly;
        part.quantity_expected = expected;
        part.quantity_present = present;
        part.storage = storage;
        book::save_part(b, part, "Ana", "test");
    }
    // An axle with its springs tagged one by one.
    void add_axle(int axle, int springs) {
        const std::string assembly = "Running gear / Axle " + std::to_string(axle);
        add(axle * 100, "Axle", assembly, std::nullopt, 1);
        for (int i = 1; i <= springs; ++i) {
            add(axle * 100 + i, "Axlebox spring", assembly + " / Springs", std::nullopt, std::nullopt,
                "Rack C");
        }
    }
    [[nodiscard]] std::vector<std::string> words() const {
        std::vector<std::string> all;
        for (const auto& c : book::completeness(b)) {
            all.push_back(book::words_of(c));
        }
        return all;
    }
};

}  // namespace

// Arithmetic: eight springs, two to an axle, so four axles.
TEST_CASE("Eight springs of the maker's list on four axles are two to an axle, and the short axle is named",
          "[book]") {
    Machine machine;
    for (const int axle : {1, 2, 4}) {
        machine.add_axle(axle, 2);
    }
    machine.add_axle(3, 1);
    book::save_line(machine.b, {0, "axlebox spring", "RP-31", "Running gear", 8, "maker's list"}, "Ana");
    REQUIRE(machine.words() ==
            std::vector<std::string>{"8 axlebox springs expected, two to an axle: 7 present"});
    CHECK(book::completeness(machine.b).at(0).short_in ==
          std::vector<std::string>{"Running gear / Axle 3: 1 of 2"});
    book::save_line(machine.b, {0, "Axlebox spring", "RP-31", "Running gear", 10, "Ben"}, "Ana");
    CHECK(machine.words() == std::vector<std::string>{"10 axlebox springs expected: 7 present"});
    const auto history = book::history_of(machine.b, "line 1");
    REQUIRE(history.size() == 2);
    CHECK(history[1].before == "8 x axlebox spring, RP-31, Running gear, maker's list");
}

TEST_CASE("Without a list the quantities of the part records are rolled up above the axles", "[book]") {
    Machine machine;
    for (int axle = 1; axle <= 4; ++axle) {
        machine.add(axle, "Axlebox spring", "Running gear / Axle " + std::to_string(axle), 2,
                    axle == 3 ? 1 : 2);
    }
    machine.add(9, "Battery box", "Frame", 1, std::nullopt);
    CHECK(machine.words() ==
          std::vector<std::string>{"1 battery box expected: 0 present, 1 tagged and not seen yet",
                                   "8 axlebox springs expected, two to an axle: 7 present"});
}

TEST_CASE("Names are put into the plural only where English allows it", "[book]") {
    const auto words = [](const std::string& name) {
        book::Completeness c;
        c.name = name;
        c.expected = 2;
        return book::words_of(c);
    };
    CHECK(words("Axlebox") == "2 axleboxes expected: 0 present");
    CHECK(words("Battery") == "2 batteries expected: 0 present");
    CHECK(words("Key") == "2 keys expected: 0 present");
    CHECK(words("Spring, laminated") == "2 spring, laminated expected: 0 present");
    CHECK(words("Pair of pliers") == "2 pair of pliers expected: 0 present");
    CHECK(words("AWS receiver") == "2 AWS receivers expected: 0 present");
    CHECK(words("") == "2 parts without a name expected: 0 present");
}

TEST_CASE("Fasteners lie in the bag of their part", "[book]") {
    Machine machine;
    machine.add(417, "Axlebox cover", "", std::nullopt, std::nullopt);
    book::set_fasteners(machine.b, tag(417), {"M12 x 40 bolt", 6}, "Ana");
    book::set_fasteners(machine.b, tag(417), {"split pin 4 mm", 2}, "Ana");
    book::set_fasteners(machine.b, tag(417), {"M12 x 40 bolt", 5}, "Ana");
    const auto bag = book::fasteners_of(machine.b, tag(417));
    REQUIRE(bag.size() == 2);
    CHECK(bag[0].size == "M12 x 40 bolt");
    CHECK(bag[0].count == 5);
    const auto last = book::history_of(machine.b, "PET-00417-D").back();
    CHECK(last.before == "6");
    CHECK(last.after == "5");
    book::set_fasteners(machine.b, tag(417), {"M12 x 40 bolt", 0}, "Ana");
    CHECK(book::fasteners_of(machine.b, tag(417)).size() == 1);
    CHECK_THROWS_AS(book::set_fasteners(machine.b, tag(418), {"M12", 1}, "Ana"), WrongUse);
    CHECK_THROWS_AS(book::set_fasteners(machine.b, tag(417), {"M12", -1}, "Ana"), WrongUse);
    CHECK_THROWS_AS(book::save_line(machine.b, {0, "", "", "", 1, ""}, "Ana"), WrongUse);
    CHECK_THROWS_AS(book::save_line(machine.b, {0, "spring", "", "", 0, ""}, "Ana"), WrongUse);
}
