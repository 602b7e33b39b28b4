#include "book/print_runs.h"

#include "book/history.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

book::PrintOrder order_of(std::vector<number::TagNumber> tags, const std::string& again = "") {
    book::PrintOrder order;
    order.tags = std::move(tags);
    order.again = again;
    return order;
}

std::vector<int> serials(const std::vector<number::TagNumber>& tags) {
    std::vector<int> out;
    for (const auto& t : tags) {
        out.push_back(t.serial());
    }
    return out;
}

}  // namespace

TEST_CASE("Blank tags get the next numbers that no part and no print run has", "[book]") {
    const ScratchFolder scratch;
    auto b = new_book(scratch / "petrel");
    CHECK(serials(book::free_numbers(b, 3)) == std::vector<int>{1, 2, 3});
    book::save_part(b, book::Part(tag(417)), "Ana", "test");
    CHECK(serials(book::free_numbers(b, 2)) == std::vector<int>{418, 419});
    book::add_print_run(b, order_of(book::free_numbers(b, 2)), "Ana");
    CHECK(serials(book::free_numbers(b, 2)) == std::vector<int>{420, 421});
    CHECK(serials(book::free_numbers(b, 4, 416)) == std::vector<int>{416, 420, 421, 422});
    CHECK(
        sqlite3_of(scratch / "petrel" / "book.db", "SELECT run, tag, again FROM printed_tag ORDER BY tag") ==
        "1|" + tag(418).text() + "|\n1|" + tag(419).text() + "|");
}

TEST_CASE("A full series is refused with what is left of it", "[book]") {
    const ScratchFolder scratch;
    auto b = new_book(scratch / "petrel");
    book::save_part(b, book::Part(tag(99990)), "Ana", "test");
    CHECK(serials(book::free_numbers(b, 9)).back() == 99999);
    CHECK_THAT(message_of<WrongUse>([&] { book::free_numbers(b, 10); }),
               Catch::Contains("only 9 free numbers are left from 99991 to 99999"));
    CHECK(book::free_numbers(b, 10, 1).size() == 10);
}

TEST_CASE("No number is printed twice by accident, and a second print says why", "[book]") {
    const ScratchFolder scratch;
    auto b = new_book(scratch / "petrel");
    book::add_print_run(b, order_of({tag(1), tag(2)}), "Ana");
    CHECK_THAT(message_of<WrongUse>([&] {
                   book::add_print_run(b, order_of({tag(3), tag(2)}), "Ana");
               }),
               Catch::Contains("PET-00002-") && Catch::Contains("was printed already") &&
                   Catch::Contains("--again"));
    CHECK(book::print_runs(b).size() == 1);  // the refused run left nothing, not even number 3
    CHECK(book::printed_numbers(b).size() == 2);

    book::add_print_run(b, order_of({tag(2), tag(3)}, "blasted off"), "Ben");
    const auto history = book::history_of(b, tag(2).text());
    REQUIRE(history.size() == 2);
    CHECK_THAT(history[1].after, Catch::Contains("again: blasted off"));
    // Number 3 was never printed before, so it has no reason for being printed again.
    CHECK(sqlite3_of(scratch / "petrel" / "book.db", "SELECT tag FROM printed_tag WHERE again <> ''") ==
          tag(2).text());
    // The database itself keeps the rule.
    CHECK_THAT(
        output_of("sqlite3 \"" + (scratch / "petrel" / "book.db").string() +
                  "\" \"INSERT INTO printed_tag VALUES (2, '" + tag(1).text() + "', '')\" 2>&1 || true"),
        Catch::Contains("UNIQUE constraint failed"));
}

TEST_CASE("An order with nothing, a stranger's tag or a tag named twice is refused", "[book]") {
    const ScratchFolder scratch;
    auto b = new_book(scratch / "petrel");
    const number::TagNumber oak(number::BookCode::from_typed("OAK"), 7);
    CHECK_THAT(message_of<WrongUse>([&] { book::add_print_run(b, order_of({}), "Ana"); }),
               Catch::Contains("no tag to print"));
    CHECK_THAT(message_of<WrongUse>([&] { book::add_print_run(b, order_of({oak}), "Ana"); }),
               Catch::Contains("belongs to book OAK"));
    CHECK_THAT(message_of<WrongUse>([&] {
                   book::add_print_run(b, order_of({tag(1), tag(1)}), "Ana");
               }),
               Catch::Contains("named twice"));
    CHECK(book::print_runs(b).empty());
}

TEST_CASE("A run whose file was never written frees its numbers, and the history keeps both", "[book]") {
    const ScratchFolder scratch;
    auto b = new_book(scratch / "petrel");
    const auto run = book::add_print_run(b, order_of(book::free_numbers(b, 3)), "Ana");
    book::take_back_print_run(b, run.id, "Ana");
    CHECK(book::printed_numbers(b).empty());
    CHECK(serials(book::free_numbers(b, 1)) == std::vector<int>{1});
    CHECK(book::history_of(b, tag(1).text()).size() == 2);
}
