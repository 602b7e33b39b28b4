#include "book/originals.h"

#include <limits>

#include "book/paths.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::FileKind;

TEST_CASE("A proved copy becomes an original, and photos and videos get numbers", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/EOS\x1b", "Ana");
    CHECK(dump.value == 1);
    const std::string raw = "DCIM/101FERRO/\xe9t\xe9.JPG";
    const auto photo = book::add_original(b, dump, {raw, 1234, 1773997200.25, 101, 0}, sum_of(1),
                                          FileKind::photo, "photos/0001/DCIM/101FERRO/%E9t%E9.JPG");
    book::add_original(b, dump, {"NOTES.TXT", 5, 0}, sum_of(2), FileKind::other, "photos/0001/NOTES.TXT");
    const auto video = book::add_original(b, dump, {"DCIM/101FERRO/FVA_0002.MP4", 99, 0, 101, 2}, sum_of(3),
                                          FileKind::video, "photos/0001/DCIM/101FERRO/FVA_0002.MP4");
    book::end_dump(b, dump, "done");
    const auto p1 = book::photo_of_original(b, photo.id);
    REQUIRE(p1);
    CHECK(p1->number.text() == "p1");
    CHECK(p1->name_on_card == "DCIM/101FERRO/\\xE9t\\xE9.JPG");
    CHECK(p1->original.bytes == 1234);
    CHECK(p1->camera_time.text == output_of("date -u -d @1773997200 +%Y-%m-%dT%H:%M:%S") + ".25");
    CHECK(p1->camera_time.source == "file time");
    CHECK(p1->corrected_seconds == 1773997200.25);
    CHECK(p1->camera.value == 0);
    CHECK(p1->dcf_directory == 101);
    CHECK(p1->dcf_counter == 0);
    CHECK(book::photo_of_original(b, video.id)->number.text() == "p2");
    CHECK(book::find_original(b, sum_of(2))->kind == FileKind::other);
    CHECK_FALSE(book::find_original(b, sum_of(4)));
    CHECK(book::all_originals(b).size() == 3);
    const auto file = scratch / "petrel" / "book.db";
    CHECK(sqlite3_of(file, "SELECT typeof(name), hex(name) FROM card_file WHERE id = 1") ==
          "blob|4443494D2F313031464552524F2FE974E92E4A5047");
    CHECK(sqlite3_of(file, "SELECT hex(card), card_words, outcome, who FROM dump") ==
          "2F6D656469612F454F531B|/media/EOS\\x1B|done|Ana");
    CHECK(book::faults_inside(b).empty());
}

TEST_CASE("The same bytes are taken in once, and seeing them again is noted", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    add_photo(b, dump, 1);
    CHECK_THROWS_AS(
        book::add_original(b, dump, {"x.JPG", 1, 0}, sum_of(1), FileKind::photo, "photos/0001/x.JPG"),
        BookError);
    const auto original = *book::find_original(b, sum_of(1));
    book::add_seen_again(b, book::begin_dump(b, "/media/card", "Ana"), {"y.JPG", 1000, 0}, original.id);
    CHECK(sqlite3_of(scratch / "petrel" / "book.db", "SELECT dump, name_words FROM card_file") ==
          "1|DCIM/101FERRO/FVA_1001.JPG\n2|y.JPG");
    CHECK(book::all_photos(b).size() == 1);
    CHECK(book::all_photos(b)[0].name_on_card == "DCIM/101FERRO/FVA_1001.JPG");
}

TEST_CASE("A stored path serves one original only, whatever its capitals", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    const auto add = [&](int number, const std::string& path) {
        book::add_original(b, dump, {"x.JPG", 1, 0}, sum_of(number), FileKind::photo, path);
    };
    add(1, "photos/0001/A.JPG");
    CHECK(book::stored_path_in_use(b, "photos/0001/A.JPG"));
    CHECK(book::stored_path_in_use(b, "photos/0001/a.jpg"));
    CHECK_FALSE(book::stored_path_in_use(b, "photos/0001/B.JPG"));
    CHECK_THROWS_AS(add(2, "photos/0001/a.jpg"), BookError);
    for (const char* path : {"", "/etc/passwd", "photos/../../x", "photos/\xff.JPG"}) {
        CHECK_THROWS_AS(add(3, path), BookError);
    }
    CHECK_THROWS_AS(book::add_original(b, dump, {"x.JPG", 1, 0}, "ABC", FileKind::photo, "photos/y.JPG"),
                    BookError);
    CHECK(book::all_originals(b).size() == 1);
}

TEST_CASE("Photo numbers run on and none is used again after a taking-in that was undone", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    CHECK(add_photo(b, dump, 1).value == 1);
    CHECK(add_photo(b, dump, 2).value == 2);
    // Even where a later program takes a photo out, its number is spent.
    sqlite3_of(scratch / "petrel" / "book.db", "DELETE FROM photo WHERE number = 2");
    CHECK(add_photo(b, dump, 3).value == 3);
    const auto faults = book::faults_inside(b);
    REQUIRE(faults.size() == 1);
    CHECK_THAT(faults[0], Catch::Contains("FVA_1002.JPG has no photo number"));
}

TEST_CASE("A file time that no calendar holds does no harm", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    int number = 0;
    for (const double time_s : {std::numeric_limits<double>::quiet_NaN(),
                                std::numeric_limits<double>::infinity(), -1e300, 1e18, -0.25}) {
        ++number;
        const auto original = book::add_original(b, dump, {"x.JPG", 1, time_s}, sum_of(number),
                                                 FileKind::photo, "photos/" + std::to_string(number));
        const auto photo = book::photo_of_original(b, original.id);
        CHECK(photo->camera_time.text == (number == 5 ? "1969-12-31T23:59:59.75" : "1970-01-01T00:00:00"));
    }
}

TEST_CASE("Second copies are counted", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    add_photo(b, dump, 1);
    add_photo(b, dump, 2);
    const auto first = book::all_originals(b)[0].id;
    CHECK(book::originals_without_second_copy(b) == 2);
    book::add_second_copy(b, first, "/mnt/disk\xff");
    book::add_second_copy(b, first, "/mnt/disk\xff");
    book::add_second_copy(b, first, "/mnt/other");
    CHECK(book::has_second_copy(b, first, "/mnt/disk\xff"));
    CHECK_FALSE(book::has_second_copy(b, first, "/mnt/disk"));
    CHECK_FALSE(book::has_second_copy(b, book::all_originals(b)[1].id, "/mnt/other"));
    CHECK(book::originals_without_second_copy(b) == 1);
}

TEST_CASE("The book finds what another program broke in it", "[book]") {
    const ScratchFolder scratch;
    {
        book::Book b = new_book(scratch / "petrel");
        add_photo(b, book::begin_dump(b, "/media/card", "Ana"), 1);
        book::save_part(b, book::Part(tag(417)), "Ana", "edit");
    }
    const auto file = scratch / "petrel" / "book.db";
    const auto faults = [&] {
        std::string all;
        for (const auto& fault :
             book::faults_inside(book::Book::open(scratch / "petrel", book::Access::read, "check"))) {
            all += fault + "\n";
        }
        return all;
    };
    CHECK(faults().empty());
    sqlite3_of(file, "INSERT INTO program_link VALUES (99, 'PET-00417-D', 'x', 1)");
    CHECK_THAT(faults(), Catch::Contains("program_link") && Catch::Contains("photo"));
    sqlite3_of(file, "DELETE FROM program_link; UPDATE part SET tag = 'PET-00417-E'");
    CHECK_THAT(faults(), Catch::Contains("\"PET-00417-E\" has no tag number"));
    sqlite3_of(file, "UPDATE part SET tag = 'PET-00417-D'; DELETE FROM photo; DELETE FROM card_file");
    CHECK_THAT(faults(), Catch::Contains("was never seen on a card"));
}
