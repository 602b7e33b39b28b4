#include "find/search.h"

#include <catch2/catch.hpp>

#include "book/parts.h"
#include "errors.h"
#include "scratch_folder.h"

using namespace stripbook;
using book::Part;
using number::BookCode;
using number::TagNumber;

namespace {

const BookCode pet = BookCode::from_typed("PET");

class FilledBook {
  public:
    FilledBook() {
        add(417, "Axlebox cover", "Bogie 1 / axle 1 / left", "Rack C");
        add(424, "Brake pull lever", "Frame / bay 3", "Rack C");
        add(431, "Krümmer, vordere Hälfte", "Engine", "Rack A");
        add(438, "Ελατήριο", "Bogie 1", "");
        add(445, "", "", "Drawer 12");
    }
    [[nodiscard]] std::string found(const std::vector<std::string>& words) const {
        return numbers(find::find_parts(book_, {words, {}, {}, ""}));
    }
    [[nodiscard]] std::string narrowed(const find::Wanted& wanted) const {
        return numbers(find::find_parts(book_, wanted));
    }

  private:
    static std::string numbers(const find::Found& found) {
        std::string text;
        for (const auto& part : found.parts) {
            text += (text.empty() ? "" : " ") + std::to_string(part.tag.serial());
        }
        CHECK(found.all == found.parts.size());
        return text;
    }
    void add(int serial, const std::string& name, const std::string& place, const std::string& storage) {
        Part part(TagNumber(pet, serial));
        part.name = name;
        part.place = place;
        part.storage = storage;
        part.notes["drawing number"] = "PR-10" + std::to_string(serial);
        book::save_part(book_, part, "test", "test");
    }
    test::ScratchFolder scratch_;
    book::Book book_ = book::Book::start(scratch_ / "book", pet, "Petrel", "test");
};

}  // namespace

TEST_CASE("A tag number in any typed form finds its part", "[find]") {
    const FilledBook book;
    for (const char* typed : {"417", "PET-00417-D", "pet-417", "00417D"}) {
        CHECK(book.found({typed}) == "417");
    }
    CHECK(book.found({"999"}).empty());
    CHECK_THROWS_AS(book.found({"PET-00417-E"}), WrongUse);
}

TEST_CASE("Words find parts by name, place, storage and notes, all of them needed", "[find]") {
    const FilledBook book;
    CHECK(book.found({"axlebox"}) == "417");
    CHECK(book.found({"rack", "C"}) == "417 424");
    CHECK(book.found({"lev"}) == "424");         // the beginning of a word is enough
    CHECK(book.found({"ever"}).empty());         // its end is not
    CHECK(book.found({"-", "lever"}) == "424");  // no word: passed over
    CHECK(book.found({"\"lever\" OR 1"}).empty());
    CHECK(book.found({"rack c", "lever"}) == "424");
    CHECK(book.found({"drawer", "12"}) == "445");
    CHECK(book.found({"PR-10438"}) == "438");
    CHECK(book.found({"nothing", "axlebox"}).empty());
    CHECK(book.found({"  "}).empty());
}

TEST_CASE("Case and accents do not matter, in any script", "[find]") {
    const FilledBook book;
    CHECK(book.found({"KRÜMMER"}) == "431");
    CHECK(book.found({"krummer"}) == "431");
    CHECK(book.found({"ελατηριο"}) == "438");
    CHECK(book.found({"ΕΛΑΤΉΡΙΟ"}) == "438");
}

TEST_CASE("Parts with the word in their name come first", "[find]") {
    const FilledBook book;
    CHECK(book.found({"bogie"}) == "417 438");
}

TEST_CASE("Place, assembly and path narrow a search down", "[find]") {
    const FilledBook book;
    CHECK(book.narrowed({{}, {"bogie"}, {}, ""}) == "417 438");
    CHECK(book.narrowed({{"axlebox"}, {"bogie"}, {}, ""}) == "417");
    CHECK(book.narrowed({{}, {"rack"}, {}, ""}).empty());  // that is where they lie, not where they sat
    CHECK(book.narrowed({{"rack"}, {}, {}, "undecided"}) == "417 424 431");
    CHECK(book.narrowed({{"rack"}, {}, {}, "use again"}).empty());
    CHECK_THROWS_AS(book.narrowed({{"rack"}, {}, {}, "lost"}), WrongUse);
}
