#include "book/unsettled_groups.h"

#include "book/history.h"
#include "book/links.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::FoundGroup;
using book::GroupNumber;
using book::GroupState;
using book::PhotoNumber;

namespace {

book::Book book_with_photos(const ScratchFolder& scratch, int photos) {
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    for (int i = 1; i <= photos; ++i) {
        add_photo(b, dump, i);
    }
    for (int i = 1; i <= 4; ++i) {
        book::save_part(b, book::Part(tag(i)), "Ana", "edit");
    }
    return b;
}

FoundGroup fresh(std::vector<PhotoNumber> photos, std::vector<book::Suggested> suggestions = {}) {
    return {std::nullopt, std::move(photos), "no tag in it", std::move(suggestions)};
}

FoundGroup known(int number, std::vector<PhotoNumber> photos, std::vector<book::Suggested> suggestions = {}) {
    return {GroupNumber{number}, std::move(photos), "no tag in it", std::move(suggestions)};
}

// "1:p1-p3 2:p5": the open groups.
std::string open_in_words(const book::Book& b) {
    std::string words;
    for (const auto& group : book::open_groups(b)) {
        words += (words.empty() ? "" : " ") + std::to_string(group.number.value) + ":" +
                 book::photo_list(group.photos);
    }
    return words;
}

// "a1 b3?": letter, rank and part of each suggestion.
std::string suggestions_in_words(const book::UnsettledGroup& group) {
    std::string words;
    for (const auto& s : group.suggestions) {
        words += (words.empty() ? "" : " ") + std::string(1, s.letter) + std::to_string(s.tag.serial()) +
                 "/" + (s.rank ? std::to_string(*s.rank) : "-");
    }
    return words;
}

}  // namespace

TEST_CASE("Photos are listed as ranges", "[book]") {
    CHECK(book::photo_list({{5}, {1}, {2}, {3}, {8}, {9}}) == "p1-p3, p5, p8, p9");
    CHECK(book::photo_list({{7}}) == "p7");
    CHECK(book::photo_list({}).empty());
}

TEST_CASE("Group numbers run on and are never given again", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_with_photos(scratch, 9);
    CHECK(book::highest_group(b).value == 0);
    book::keep_groups(b, {fresh({{1}, {2}, {3}}), fresh({{5}})});
    CHECK(open_in_words(b) == "1:p1-p3 2:p5");
    book::keep_groups(b, {});
    CHECK(open_in_words(b).empty());
    CHECK(book::find_group(b, {2})->state == GroupState::gone);
    book::keep_groups(b, {fresh({{8}})});
    CHECK(open_in_words(b) == "3:p8");
    CHECK(book::highest_group(b).value == 3);
}

TEST_CASE("A group that loses photos keeps its number, and one that is gone comes back with it", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_with_photos(scratch, 9);
    book::keep_groups(b, {fresh({{1}, {2}, {3}})});
    book::keep_groups(b, {known(1, {{1}, {3}})});
    const auto fewer = *book::find_group(b, {1});
    CHECK(book::photo_list(fewer.photos) == "p1, p3");
    CHECK(book::photo_list(fewer.left) == "p2");
    book::keep_groups(b, {});
    const auto gone = *book::find_group(b, {1});
    CHECK(gone.state == GroupState::gone);
    CHECK(gone.ended_by == "stripbook");
    CHECK(book::groups_holding(b).at({2}).value == 1);
    book::keep_groups(b, {known(1, {{1}, {2}, {3}})});
    const auto back = *book::find_group(b, {1});
    CHECK(back.state == GroupState::open);
    CHECK(back.ended_at.empty());
    CHECK(book::photo_list(back.photos) == "p1-p3");
    const auto history = book::history_of(b, "group 1");
    REQUIRE(history.size() == 4);
    CHECK(history[1].before == "p1-p3");
    CHECK(history[1].after == "p1, p3");
    CHECK(history[3].after == "p1-p3");
}

TEST_CASE("What stays the same is written once", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_with_photos(scratch, 9);
    book::keep_groups(b, {fresh({{1}, {2}}, {{tag(1), 0.7}})});
    book::keep_groups(b, {known(1, {{1}, {2}}, {{tag(1), 0.7}})});
    CHECK(book::history_of(b, "group 1").size() == 1);
}

TEST_CASE("Suggestions keep their letters however their order changes", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_with_photos(scratch, 9);
    book::keep_groups(b, {fresh({{1}}, {{tag(1), 0.7}, {tag(2), 0.2}})});
    CHECK(suggestions_in_words(*book::find_group(b, {1})) == "a1/1 b2/2");
    book::keep_groups(b, {known(1, {{1}}, {{tag(3), 0.6}, {tag(2), 0.3}})});
    const auto group = *book::find_group(b, {1});
    CHECK(suggestions_in_words(group) == "a1/- b2/2 c3/1");
    CHECK(group.best()->letter == 'c');
    CHECK(group.best()->chance == 0.6);
    CHECK_FALSE(group.suggestions[0].chance);
    book::keep_groups(b, {known(1, {{1}}, {{tag(1), std::nullopt}})});
    CHECK(suggestions_in_words(*book::find_group(b, {1})) == "a1/1 b2/- c3/-");
}

TEST_CASE("A settled group stays known, holds its photos no more, and can be opened again", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_with_photos(scratch, 9);
    book::keep_groups(b, {fresh({{1}, {2}})});
    book::settle_group(b, {1}, tag(1).text(), "Ana");
    CHECK_THROWS_AS(book::settle_group(b, {1}, tag(2).text(), "Ben"), WrongUse);
    CHECK_THROWS_AS(book::settle_group(b, {9}, tag(2).text(), "Ben"), WrongUse);
    book::keep_groups(b, {});
    const auto settled = *book::find_group(b, {1});
    CHECK(settled.state == GroupState::settled);
    CHECK(settled.decision == tag(1).text());
    CHECK(settled.ended_by == "Ana");
    CHECK(book::photo_list(settled.photos) == "p1, p2");
    CHECK(book::groups_holding(b).empty());
    CHECK_THROWS_AS(book::keep_groups(b, {known(1, {{1}})}), BookError);
    book::reopen_group(b, {1}, "Ben");
    CHECK_THROWS_AS(book::reopen_group(b, {1}, "Ben"), WrongUse);
    CHECK(open_in_words(b) == "1:p1, p2");
    CHECK(sqlite3_of(scratch / "petrel" / "book.db",
                     "SELECT who, before, after FROM history WHERE what = 'group 1' AND field = 'decision' "
                     "ORDER BY id") == "Ana||PET-00001-O\nBen|PET-00001-O|");
}

TEST_CASE("A group taken apart is cut for good", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_with_photos(scratch, 9);
    book::keep_groups(b, {fresh({{1}, {2}, {3}})});
    book::take_group_apart(b, {1}, {{2}}, "Ana");
    CHECK(book::find_group(b, {1})->state == GroupState::apart);
    CHECK(book::group_cuts(b) == std::set<PhotoNumber>{{2}});
    CHECK(book::groups_holding(b).empty());
    book::keep_groups(b, {fresh({{1}}), fresh({{2}, {3}})});
    CHECK(open_in_words(b) == "2:p1 3:p2, p3");
}

TEST_CASE("The group that settles most photos comes first", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_with_photos(scratch, 9);
    book::keep_groups(b, {fresh({{1}}), fresh({{2}, {3}}), fresh({{4}, {5}})});
    auto groups = book::open_groups(b);
    book::most_photos_first(groups);
    CHECK(groups[0].number.value == 2);
    CHECK(groups[1].number.value == 3);
    CHECK(groups[2].number.value == 1);
}

TEST_CASE("A photo that waits without a group is noticed", "[book]") {
    const ScratchFolder scratch;
    book::Book b = book_with_photos(scratch, 3);
    CHECK_FALSE(book::waits_without_group(b));
    book::replace_program_links(b, {}, {{{2}, "no tag in it", {}}});
    CHECK(book::waits_without_group(b));
    book::keep_groups(b, {fresh({{2}})});
    CHECK_FALSE(book::waits_without_group(b));
}
