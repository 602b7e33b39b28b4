#include "dump/take_in.h"

#include <catch2/catch.hpp>
#include <chrono>

#include "book/originals.h"
#include "book/photos.h"
#include "dump/book_for_test.h"
#include "dump/card_for_test.h"
#include "dump/outside_tools.h"
#include "errors.h"

using namespace stripbook;
using namespace stripbook::dump;
using namespace stripbook::test;
using Catch::Contains;

namespace {

void write_usual_card(const std::filesystem::path& card) {
    write_file(card / "DCIM/100FERRO/FVA_0001.JPG", photo_bytes(70'000, 1));
    write_file(card / "DCIM/100FERRO/FVA_0002.JPG", photo_bytes(2'300'000, 2));
    write_file(card / "DCIM/100FERRO/FVA_0003.MOV", "not really a film");
    write_file(card / "DCIM/100FERRO/FVA_0003.THM", photo_bytes(900, 3));
    write_file(card / "DCIM/100FERRO/.DS_Store", "housekeeping");
    write_file(card / "MISC/EMPTY.TXT", "");
}

std::string whole_file(const std::filesystem::path& path) {
    return output_of("cat " + quoted(path));
}

}  // namespace

TEST_CASE("a card comes in whole: every file has its bytes, its place, its kind and its photo number") {
    const BookForTest test;
    write_usual_card(test.card);
    const auto result = test.dump();
    test.check_holds_the_card();
    CHECK(result.every_file_proved);
    CHECK_FALSE(result.every_file_proved_twice);
    CHECK(result.left_out.empty());
    CHECK(result.remarks.empty());
    CHECK(result.bytes == result.bytes_new);
    CHECK(result.bytes == 70'000 + 2'300'000 + 17 + 900 + 12);
    REQUIRE(result.files.size() == 6);
    const auto sums = sums_under(test.card);
    for (const auto& file : result.files) {
        CAPTURE(file.name, file.failure);
        CHECK(file.sha256 == sums.at(file.name));
        CHECK(file.original);
        CHECK_FALSE(file.known);
    }
    CHECK(test.stored_names() ==
          std::vector<std::string>{"0001/DCIM/100FERRO/%2EDS_Store", "0001/DCIM/100FERRO/FVA_0001.JPG",
                                   "0001/DCIM/100FERRO/FVA_0002.JPG", "0001/DCIM/100FERRO/FVA_0003.MOV",
                                   "0001/DCIM/100FERRO/FVA_0003.THM", "0001/MISC/EMPTY.TXT"});
    const auto photos = book::all_photos(test.open(book::Access::read));
    REQUIRE(photos.size() == 4);
    CHECK(photos[0].name_on_card == "DCIM/100FERRO/FVA_0001.JPG");
    CHECK(photos[0].dcf_directory == 100);
    CHECK(photos[0].dcf_counter == 1);
    CHECK(photos[2].original.kind == book::FileKind::video);
    CHECK(photos[3].original.kind == book::FileKind::photo);
}

TEST_CASE("the card is left as it was, down to every time but that of the last reading") {
    const BookForTest test;
    write_usual_card(test.card);
    const std::string before = everything_about(test.card);
    test.dump(test.with_second());
    CHECK(everything_about(test.card) == before);
}

TEST_CASE("a card that comes again is known and stored once, and new files on it are taken in") {
    const BookForTest test;
    write_usual_card(test.card);
    test.dump();
    write_file(test.card / "DCIM/100FERRO/FVA_0004.JPG", photo_bytes(5000, 4));
    const auto again = test.dump();
    test.check_holds_the_card();
    CHECK(again.every_file_proved);
    CHECK(again.bytes_new == 5000);
    for (const auto& file : again.files) {
        CAPTURE(file.name);
        CHECK(file.known == (file.name != "DCIM/100FERRO/FVA_0004.JPG"));
        CHECK(file.original);
    }
    CHECK(test.stored_names().back() == "0002/DCIM/100FERRO/FVA_0004.JPG");
}

TEST_CASE("equal bytes under two names are stored once and both files count as proved") {
    const BookForTest test;
    write_file(test.card / "A.JPG", photo_bytes(1000, 1));
    write_file(test.card / "B.JPG", photo_bytes(1000, 1));
    const auto result = test.dump();
    test.check_holds_the_card();
    CHECK(result.every_file_proved);
    CHECK(result.files[1].known);
    CHECK(result.files[0].original == result.files[1].original);
}

TEST_CASE("names that differ only in case get numbers, since the book may move to a disk that folds case") {
    const BookForTest test;
    write_file(test.card / "a.jpg", "1");
    write_file(test.card / "A.JPG", "2");
    write_file(test.card / "A (2).JPG", "3");
    write_file(test.card / "\xC3\xA4.jpg", "4");  // small and capital A with two dots
    write_file(test.card / "\xC3\x84.jpg", "5");
    write_file(test.card / "dcim", "a file");
    write_file(test.card / "DCIM/x", "6");
    write_file(test.card / "noext", "7");
    write_file(test.card / "NOEXT", "8");
    CHECK(test.dump().every_file_proved);
    test.check_holds_the_card();
    CHECK(test.stored_names() == std::vector<std::string>{"0001/A (2).JPG", "0001/A.JPG", "0001/DCIM/x",
                                                          "0001/NOEXT", "0001/a (3).jpg", "0001/dcim (2)",
                                                          "0001/noext (2)", "0001/\xC3\x84.jpg",
                                                          "0001/\xC3\xA4 (2).jpg"});
}

TEST_CASE("odd names, long names and deep folders are stored and found again") {
    const BookForTest test;
    write_file(test.card / "new\nline \xFF \"q\" 'p'.JPG", "1");
    write_file(test.card / (std::string(250, 'n') + ".JPG"), "2");
    write_file(test.card / (std::string(255, '\xFF')), "3");
    write_file(test.card / ".hidden/..x", "4");
    std::filesystem::path deep = test.card;
    for (int i = 0; i < 12; ++i) {
        deep /= std::string(200, 'd');
    }
    write_file(deep / "E.JPG", "5");
    CHECK(test.dump(test.with_second()).every_file_proved_twice);
    test.check_holds_the_card();
    test.check_second_holds_the_card();
}

TEST_CASE("a stored file that somebody deleted is stored again at its old place") {
    const BookForTest test;
    write_usual_card(test.card);
    test.dump();
    std::filesystem::remove_all(test.book / "photos/0001/DCIM");
    const auto again = test.dump();
    test.check_holds_the_card();
    CHECK(again.every_file_proved);
    CHECK(again.bytes_new == 0);
    REQUIRE(again.remarks.size() == 5);
    CHECK_THAT(again.remarks[1], Contains("photos/0001/DCIM/100FERRO/FVA_0001.JPG: was missing"));
    CHECK(again.files[1].known);
}

TEST_CASE("a stored file that was changed keeps the card from being called proved, and is not touched") {
    const BookForTest test;
    write_usual_card(test.card);
    test.dump();
    const auto stored = test.book / "photos/0001/DCIM/100FERRO/FVA_0001.JPG";
    write_file(stored, "cropped");
    const auto again = test.dump();
    CHECK_FALSE(again.every_file_proved);
    CHECK_THAT(again.files[1].failure, Contains("FVA_0001.JPG is no longer what was taken in; move it away"));
    CHECK(again.files[2].failure.empty());
    CHECK(whole_file(stored) == "cropped");
    std::filesystem::rename(stored, test.folder / "moved away");
    CHECK(test.dump().every_file_proved);
    test.check_holds_the_card();
}

TEST_CASE("a link in the book that leads to the card itself is no copy of the card") {
    const BookForTest test;
    write_usual_card(test.card);
    test.dump();
    std::filesystem::remove_all(test.book / "photos/0001");
    std::filesystem::create_directory_symlink(test.card, test.book / "photos/0001");
    const auto again = test.dump();
    CHECK_FALSE(again.every_file_proved);
    CHECK_THAT(again.files[1].failure, Contains("is this very file on the card"));
}

TEST_CASE("progress comes at most ten times a second and ends with all files") {
    const BookForTest test;
    for (int i = 0; i < 60; ++i) {
        write_file(test.card / ("A" + std::to_string(i) + ".JPG"),
                   photo_bytes(20'000, static_cast<unsigned>(i)));
    }
    std::vector<std::chrono::steady_clock::time_point> times;
    std::vector<Progress> told;
    auto options = BookForTest::options_for_test();
    options.progress = [&](const Progress& progress) {
        times.push_back(std::chrono::steady_clock::now());
        told.push_back(progress);
    };
    test.dump(options);
    REQUIRE(!told.empty());
    for (std::size_t i = 1; i < told.size(); ++i) {
        CHECK(times[i] - times[i - 1] >= std::chrono::milliseconds(99));
        CHECK(told[i].bytes_done >= told[i - 1].bytes_done);
    }
    CHECK(told.back().files_all == 60);
    CHECK(told.back().bytes_all == 1'200'000);
    CHECK(told.back().current.substr(0, 1) == "A");
}

TEST_CASE("the work can be stopped between chunks, and nothing half is left and running again finishes") {
    const BookForTest test;
    for (int i = 10; i < 50; ++i) {
        write_file(test.card / ("A" + std::to_string(i) + ".JPG"),
                   photo_bytes(3000, static_cast<unsigned>(i)));
    }
    auto options = test.with_second();
    const auto stored = [&] { return std::filesystem::exists(test.book / "photos/0001/A21.JPG"); };
    options.stop = stored;
    CHECK_THROWS_AS(test.dump(options), Stopped);
    CHECK(test.stored_names().size() == 12);
    CHECK(std::filesystem::is_empty(test.book / "photos/.incoming"));
    CHECK(std::filesystem::is_empty(test.second / "PET/.incoming"));
    options.stop = {};
    CHECK(test.dump(options).every_file_proved_twice);
    test.check_holds_the_card();
    test.check_second_holds_the_card();
}

TEST_CASE("being stopped is told with the count and what to do") {
    const BookForTest test;
    write_usual_card(test.card);
    auto options = BookForTest::options_for_test();
    int asked = 0;
    options.stop = [&] { return ++asked > 3; };
    CHECK_THROWS_WITH(test.dump(options), Contains(" of 6 files; run the same command again to finish") &&
                                              Contains("stopped after "));
}
