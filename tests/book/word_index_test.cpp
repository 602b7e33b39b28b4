#include "book/word_index.h"

#include <random>

#include "book/folded.h"
#include "book/inspection.h"
#include "book/part_path.h"
#include "book/refit_notes.h"
#include "sample_book.h"
#include "where.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Access;
using book::Book;

namespace {

std::string serials(const book::WordHits& hits) {
    std::string text;
    for (const auto& tag : hits.tags) {
        text += (text.empty() ? "" : "\n") + std::to_string(tag.serial());
    }
    return text;
}

void add(Book& b, int serial, const std::string& name, const std::string& place = "") {
    book::Part part(tag(serial));
    part.name = name;
    part.place = place;
    book::save_part(b, part, "Ana", "test");
}

}  // namespace

TEST_CASE("Text is folded in any script, and what is not UTF-8 stays", "[book]") {
    CHECK(book::folded("Straße") == book::folded("STRASSE"));
    CHECK(book::folded("Ελατήριο") == book::folded("ΕΛΑΤΗΡΙΟ"));
    CHECK(book::folded("\xff\xfe") == "\xff\xfe");
}

TEST_CASE("The index finds what LIKE finds at the beginnings of words", "[book]") {
    const ScratchFolder scratch;
    Book b = new_book(scratch / "petrel");
    const std::vector<std::string> words{"brake", "brass",  "bracket", "lever",
                                         "level", "spring", "axle",    "axlebox"};
    std::mt19937 dice(7);
    const auto any = [&] { return words[dice() % words.size()]; };
    b.together([&] {
        for (int i = 1; i <= 400; ++i) {
            add(b, i, any() + " " + any(), any() + " / " + any());
        }
    });
    for (const char* sought : {"bra", "brake", "lev", "lever", "axle", "axlebox", "ax", "spring"}) {
        INFO(sought);
        const book::WordHits hits = book::find_words(b, {{sought}, {}, {}, "", 400});
        // Every word here begins after a space or at the beginning: what LIKE can be asked.
        const std::string like = std::string("' ' || name || ' ' || place LIKE '% ") + sought + "%'";
        const std::string in_name = std::string("(' ' || name LIKE '% ") + sought + "%')";
        CHECK(serials(hits) == sqlite3_of(scratch / "petrel/book.db",
                                          "SELECT CAST(substr(tag, 5, 5) AS INTEGER) FROM part WHERE " +
                                              like + " ORDER BY " + in_name + " DESC, tag"));
        CHECK(hits.all == hits.tags.size());
    }
    const auto few = book::find_words(b, {{"bra"}, {}, {}, "", 3});
    CHECK(few.tags.size() == 3);
    CHECK(few.all > 3);
}

TEST_CASE("The index follows every change of a record, whoever made it", "[book]") {
    const ScratchFolder scratch;
    Book b = new_book(scratch / "petrel");
    add(b, 1, "Brake lever");
    add(b, 2, "Axlebox cover");
    CHECK(serials(book::find_words(b, {{"lever"}, {}, {}, ""})) == "1");
    add(b, 1, "Hand wheel");
    CHECK(serials(book::find_words(b, {{"lever"}, {}, {}, ""})).empty());
    CHECK(serials(book::find_words(b, {{"wheel"}, {}, {}, ""})) == "1");
    // Another program changes a record: the index is behind, the search is not.
    sqlite3_of(scratch / "petrel/book.db",
               "UPDATE part SET name = 'Wheel nut' WHERE tag = '" + tag(2).text() + "'");
    const auto hits = book::find_words(b, {{"wheel"}, {}, {}, ""});
    CHECK(serials(hits) == "1\n2");
    CHECK(hits.all == 2);
    CHECK(book::find_words(b, {{"axlebox"}, {}, {}, ""}).all == 0);
    // The next command takes it in.
    add(b, 3, "Spring");
    CHECK(sqlite3_of(scratch / "petrel/book.db", "SELECT count(*) FROM word_index_due") == "0");
    CHECK(serials(book::find_words(b, {{"wheel"}, {}, {}, ""})) == "1\n2");
}

TEST_CASE("What inspection, path and refitting say of a part is found while it holds", "[book]") {
    const ScratchFolder scratch;
    Book b = new_book(scratch / "petrel");
    add(b, 1, "Brake lever");
    add(b, 2, "Axlebox cover");
    const auto found = [&](const std::string& word) {
        return serials(book::find_words(b, {{word}, {}, {}, ""}));
    };
    const auto number = book::add_finding(
        b, tag(1), {{0, "Ana", "2026-11-25"}, "crack", "lower lug", "through, 12 mm", {}}, "Ana");
    CHECK(found("lug") == "1");
    CHECK(found("crack") == "1");
    book::take_back_entry(b, tag(1), number, "dirt", "Ana");
    CHECK(found("lug").empty());
    book::PathChange change;
    change.path = "make";
    change.why = "corroded beyond use";
    change.drawing = "PR-7781";
    book::change_path(b, tag(2), change, "Ben");
    CHECK(found("corroded") == "2");
    CHECK(found("PR-7781") == "2");
    const auto work = book::add_work(b, tag(2), "turn the spigot", 3.0, "Ben");
    CHECK(found("spigot") == "2");
    book::end_work(b, tag(2), work, {"2026-11-26", "Ben", 2.0, ""}, "Ben");
    CHECK(found("spigot").empty());
    book::RefitNote note;
    note.kind = book::RefitNoteKind::match_marks;
    note.words = "two dots at the top";
    const auto kept = book::add_refit_notes(b, tag(1), {note}, "Ana");
    CHECK(found("dots") == "1");
    book::end_refit_note(b, tag(1), kept.front().number, "Ana");
    CHECK(found("dots").empty());
    CHECK(sqlite3_of(scratch / "petrel/book.db", "SELECT count(*) FROM word_index_due") == "0");
}

TEST_CASE("An old book is searched before and after it is upgraded", "[book]") {
    const ScratchFolder scratch;
    std::filesystem::create_directories(scratch / "petrel");
    std::filesystem::copy_file(source_folder() / "tests/book/old_books/format-3.db",
                               scratch / "petrel/book.db");
    {
        const Book b = Book::open(scratch / "petrel", Access::read, "test");
        CHECK(serials(book::find_words(b, {{"axlebox"}, {}, {}, ""})) == "417");
    }
    Book b = Book::open(scratch / "petrel", Access::write, "test");
    CHECK(serials(book::find_words(b, {{"axlebox"}, {}, {}, ""})) == "417");
    add(b, 900, "Axlebox wedge");
    CHECK(serials(book::find_words(b, {{"axlebox"}, {}, {}, ""})) == "417\n900");
    CHECK(sqlite3_of(scratch / "petrel/book.db", "SELECT count(*) FROM word_index_due") == "0");
}
