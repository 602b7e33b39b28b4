#include "dump/book_for_test.h"

#include <catch2/catch.hpp>

#include "book/originals.h"
#include "dump/check_originals.h"
#include "dump/outside_tools.h"
#include "number/tag_number.h"

namespace stripbook::test {

BookForTest::BookForTest() {
    book::Book::start(book, number::BookCode::from_typed("PET"), "Petrel", "test");
    std::filesystem::create_directory(card);
}

book::Book BookForTest::open(book::Access access) const {
    return book::Book::open(book, access, "dump");
}

dump::CardResult BookForTest::dump(dump::FileDoor& door, const dump::TakeInOptions& options) const {
    auto opened = open();
    return dump::take_in(opened, card, options, door);
}

dump::CardResult BookForTest::dump(const dump::TakeInOptions& options) const {
    dump::FileDoor door;
    return dump(door, options);
}

dump::TakeInOptions BookForTest::options_for_test() {
    dump::TakeInOptions options;
    options.who = "test";
    return options;
}

dump::TakeInOptions BookForTest::with_second() const {
    auto options = options_for_test();
    options.second_folder = second;
    return options;
}

void BookForTest::check_holds_the_card() const {
    const auto on_card = different_sums(sums_under(card));
    const auto stored = sums_under(book / "photos");
    CHECK(different_sums(stored) == on_card);
    CHECK(stored.size() == on_card.size());
    const auto opened = open(book::Access::read);
    std::map<std::string, std::string> recorded;
    for (const auto& original : book::all_originals(opened)) {
        recorded[original.stored_path.substr(std::string("photos/").size())] = original.sha256;
    }
    CHECK(recorded == stored);
    dump::FileDoor door;
    const auto checked = dump::check_originals(opened, door);
    CHECK(checked.good());
    CHECK(checked.files == stored.size());
}

void BookForTest::check_second_holds_the_card() const {
    const auto stored = sums_under(book / "photos");
    CHECK(sums_under(second / "PET" / "photos") == stored);
    CHECK(sums_under(second).size() == stored.size());
    CHECK(book::originals_without_second_copy(open(book::Access::read)) == 0);
}

std::vector<std::string> BookForTest::stored_names() const {
    std::vector<std::string> names;
    for (const auto& [name, sum] : sums_under(book / "photos")) {
        names.push_back(name);
    }
    return names;
}

}  // namespace stripbook::test
