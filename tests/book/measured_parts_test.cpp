#include "book/measured_parts.h"

#include "book/links.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Book;

namespace {

book::PhotoNumber add_photo(Book& b, book::DumpId dump, int count) {
    std::string sum = std::to_string(count);
    sum.insert(0, 64 - sum.size(), 'a');
    const std::string name = "DCIM/101AAAAA/AAAA000" + std::to_string(count) + ".JPG";
    const auto original = book::add_original(b, dump, {name, 10, 0, 101, count}, sum, book::FileKind::photo,
                                             "photos/0001/" + name);
    return book::photo_of_original(b, original.id)->number;
}

struct MeasuredBook {
    MeasuredBook() : b(new_book(scratch / "petrel")) {
        for (int serial : {417, 424}) {
            book::save_part(b, book::Part(tag(serial)), "Ana", "test");
        }
        const auto dump = book::begin_dump(b, "card", "Ana");
        for (int i = 1; i <= 2; ++i) {
            photos.push_back(add_photo(b, dump, i));
            book::link_by_person(b, photos.back(), tag(417), "Ana");
        }
    }
    book::Measurement measure(int photo, std::vector<book::DimensionRecord> dimensions) {
        book::Measurement m(tag(417));
        m.photo = photos.at(static_cast<std::size_t>(photo) - 1);
        m.dimensions = std::move(dimensions);
        m.id = book::save_measurement(b, m);
        return m;
    }
    ScratchFolder scratch;
    Book b;
    std::vector<book::PhotoNumber> photos;
};

book::DimensionRecord dimension(int number, const char* name, double value, double expanded) {
    return {number, name, value, expanded, "mm", {}, "", "", {}};
}

}  // namespace

// Combined U of 0.3 and 0.4 is 0.5 (a right triangle of 3, 4, 5), three times that 1.5.
TEST_CASE("A dimension that differs by more than three times the combined U is told", "[book]") {
    MeasuredBook m;
    CHECK(book::contradictions(
              m.b, m.measure(1, {dimension(1, "length", 200, 0.3), dimension(2, "width", 80, 0.3)}))
              .empty());
    CHECK(book::contradictions(
              m.b, m.measure(2, {dimension(1, "length", 201.4, 0.4), dimension(2, "width", 80.1, 0.4)}))
              .empty());
    const auto told = book::contradictions(
        m.b, m.measure(2, {dimension(1, "length", 201.6, 0.4), dimension(2, "width", 80.1, 0.4)}));
    REQUIRE(told.size() == 1);
    CHECK_THAT(told[0], Catch::Contains("PET-00417") && Catch::Contains("length in p2 is 201.6 mm") &&
                            Catch::Contains("200.0 mm") && Catch::Contains("p1"));
}

TEST_CASE("Holes, of which there are many, and other photos of the same measuring do not contradict",
          "[book]") {
    MeasuredBook m;
    static_cast<void>(
        m.measure(1, {dimension(1, "hole diameter", 20, 0.3), dimension(2, "hole diameter", 30, 0.3)}));
    CHECK(book::contradictions(m.b, m.measure(2, {dimension(1, "hole diameter", 60, 0.3),
                                                  dimension(2, "hole diameter", 70, 0.3)}))
              .empty());
}

TEST_CASE("A measurement follows its photo to another part, and only when it belongs to that one alone",
          "[book]") {
    MeasuredBook m;
    static_cast<void>(m.measure(1, {dimension(1, "length", 200, 0.3)}));
    static_cast<void>(m.measure(2, {dimension(1, "length", 200, 0.3)}));
    book::measurements_follow_links(m.b);
    CHECK(book::measurements_of(m.b, tag(417)).size() == 2);
    book::link_by_person(m.b, m.photos[0], tag(424), "Ana");
    book::measurements_follow_links(m.b);
    CHECK(book::measurements_of(m.b, tag(417)).size() == 2);
    book::unlink_by_person(m.b, m.photos[0], tag(417), "Ana");
    book::measurements_follow_links(m.b);
    CHECK(book::measurements_of(m.b, tag(417)).size() == 1);
    CHECK(book::measurements_of(m.b, tag(424)).size() == 1);
    CHECK(
        sqlite3_of(m.scratch / "petrel/book.db",
                   "SELECT count(*) FROM history WHERE what LIKE 'PET-00424%' AND field LIKE 'dimensions in "
                   "p1'") == "1");
}
