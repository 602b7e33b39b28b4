#include "book/links.h"

#include <chrono>

#include "book/history.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Link;

namespace {

// A book with parts 1 to 3 and photos p1 to p4.
book::Book book_to_link(const ScratchFolder& scratch) {
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    for (int i = 1; i <= 4; ++i) {
        add_photo(b, dump, i);
    }
    for (int i = 1; i <= 3; ++i) {
        book::save_part(b, book::Part(tag(i)), "Ana", "edit");
    }
    return b;
}

Link link_to(int photo, int serial, double sure = 0.9, const std::string& why = "tag in the photo") {
    return {{photo}, tag(serial), why, sure, false};
}

std::string in_words(const std::vector<Link>& links) {
    std::string words;
    for (const auto& link : links) {
        words += link.photo.text() + " " + link.tag.text() + (link.by_person ? " person" : "") + "\n";
    }
    return words;
}

}  // namespace

TEST_CASE("The program's links are replaced and only the differences are history", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_to_link(scratch);
    book::replace_program_links(b, {link_to(2, 1), link_to(1, 1), link_to(1, 2, 0.5), link_to(1, 2, 0.7)},
                                {{{3}, "no tag near", {tag(1), tag(2)}}});
    CHECK(in_words(book::all_links(b)) == "p1 PET-00001-O\np1 " + tag(2).text() + "\np2 PET-00001-O\n");
    CHECK(book::all_links(b)[1].sure == 0.7);
    REQUIRE(book::all_unsettled(b).size() == 1);
    CHECK(book::all_unsettled(b)[0].suggestions == std::vector<number::TagNumber>{tag(1), tag(2)});
    book::replace_program_links(b, {link_to(1, 1, 0.95, "better seen"), link_to(3, 3)}, {});
    CHECK(in_words(book::all_links(b)) == "p1 PET-00001-O\np3 " + tag(3).text() + "\n");
    CHECK(book::all_links(b)[0].why == "better seen");
    CHECK(book::all_unsettled(b).empty());
    CHECK(book::history_of(b, "p1").size() == 3);  // two came, one went; a better reason is no change of link
    const auto p2 = book::history_of(b, "p2");
    REQUIRE(p2.size() == 2);
    CHECK(p2[1].who == "stripbook");
    CHECK(p2[1].before == "PET-00001-O");
    CHECK(p2[1].after.empty());
}

TEST_CASE("The program never overwrites a person's word", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_to_link(scratch);
    book::replace_program_links(b, {link_to(1, 1), link_to(2, 1)}, {});
    book::unlink_by_person(b, {1}, tag(1), "Ana");
    book::link_by_person(b, {4}, tag(2), "Ana");
    book::link_by_person(b, {2}, tag(1), "Ana");
    const std::string held = "p2 PET-00001-O person\np4 " + tag(2).text() + " person\n";
    CHECK(in_words(book::all_links(b)) == held);
    book::replace_program_links(b, {link_to(1, 1), link_to(2, 1)}, {});
    CHECK(in_words(book::all_links(b)) == held);
    book::replace_program_links(b, {}, {});
    CHECK(in_words(book::all_links(b)) == held);
    CHECK(book::links_of(b, tag(2)).at(0).sure == 1);
    CHECK_THAT(book::links_of(b, tag(2)).at(0).why, Catch::Contains("Ana"));
    REQUIRE(book::all_refusals(b).size() == 1);
    CHECK(book::all_refusals(b)[0].photo.value == 1);
    CHECK(book::all_refusals(b)[0].tag == tag(1));
}

TEST_CASE("A person's word can be taken back, and the history keeps all of it", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_to_link(scratch);
    book::link_by_person(b, {1}, tag(1), "Ana");
    book::link_by_person(b, {1}, tag(1), "Ana");
    book::unlink_by_person(b, {1}, tag(1), "Ben");
    CHECK(book::all_links(b).empty());
    book::link_by_person(b, {1}, tag(1), "Ana");
    CHECK(book::all_refusals(b).empty());
    CHECK(sqlite3_of(scratch / "petrel" / "book.db",
                     "SELECT who, before, after FROM history WHERE what = 'p1' ORDER BY id") ==
          "Ana||PET-00001-O\nBen|PET-00001-O|not PET-00001-O\nAna|not PET-00001-O|PET-00001-O");
    CHECK_THROWS_AS(book::link_by_person(b, {1}, tag(99), "Ana"), WrongUse);
    CHECK_THROWS_AS(book::unlink_by_person(b, {99}, tag(1), "Ana"), WrongUse);
}

TEST_CASE("Links to what the book has not are refused whole", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_to_link(scratch);
    book::replace_program_links(b, {link_to(1, 1)}, {});
    CHECK_THROWS_AS(book::replace_program_links(b, {link_to(2, 2), link_to(2, 99)}, {}), BookError);
    CHECK_THROWS_AS(book::replace_program_links(b, {link_to(2, 2), link_to(99, 2)}, {}), BookError);
    CHECK_THROWS_AS(book::replace_program_links(b, {}, {{{99}, "?", {}}}), BookError);
    CHECK(in_words(book::all_links(b)) == "p1 PET-00001-O\n");
}

TEST_CASE("Ten thousand links that stay the same are replaced in a moment", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    std::vector<Link> links;
    b.together([&] {
        const auto dump = book::begin_dump(b, "/media/card", "Ana");
        for (int i = 1; i <= 10000; ++i) {
            add_photo(b, dump, i);
            if (i % 10 == 1) {
                book::add_seen_part(b, tag(i), {i}, "stripbook");
            }
            links.push_back(link_to(i, i - (i - 1) % 10));
        }
    });
    book::replace_program_links(b, links, {});
    const auto start = std::chrono::steady_clock::now();
    book::replace_program_links(b, links, {});
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    WARN("10,000 links compared in " << took.count() << " s");
    CHECK(took.count() < 2);  // a tenth of that on the slowest machine tried; a rewrite of all takes longer
    CHECK(book::history_of(b, "p5").size() == 1);
    CHECK(book::all_links(b).size() == 10000);
}
