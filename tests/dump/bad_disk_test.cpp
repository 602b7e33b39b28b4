// Disks that are full or lie.
#include <catch2/catch.hpp>
#include <cerrno>

#include "book/originals.h"
#include "dump/book_for_test.h"
#include "dump/card_for_test.h"
#include "dump/door_for_test.h"
#include "dump/outside_tools.h"
#include "dump/room_check.h"
#include "dump/small_disk.h"
#include "errors.h"

using namespace stripbook;
using namespace stripbook::dump;
using namespace stripbook::test;
using Catch::Contains;

TEST_CASE(
    "a disk that reads back other bytes once is tried again, and one that always does is not believed") {
    const BookForTest test;
    write_photos(test.card, 3, 10'000);
    DoorForTest door;
    int lies = 1;
    door.lies = [&](const std::filesystem::path&) { return lies-- > 0; };
    SECTION("once") {
        CHECK(test.dump(door).every_file_proved);
        CHECK(lies < 0);
        test.check_holds_the_card();
    }
    SECTION("twice in a row: that file fails and the others go on") {
        lies = 2;
        const auto result = test.dump(door);
        CHECK_FALSE(result.every_file_proved);
        CHECK_THAT(result.files[0].failure,
                   Contains("FVA_0010.JPG: the copy does not read back as written: disk or cable?"));
        CHECK_FALSE(result.files[0].original);
        CHECK(result.files[1].failure.empty());
        CHECK(test.stored_names() == std::vector<std::string>{"0001/FVA_0011.JPG", "0001/FVA_0012.JPG"});
        CHECK(book::all_originals(test.open(book::Access::read)).size() == 2);
        CHECK(test.dump().every_file_proved);
        test.check_holds_the_card();
    }
    SECTION("always: nothing is recorded and nothing is left") {
        lies = 1000;
        const auto result = test.dump(door);
        CHECK_FALSE(result.every_file_proved);
        CHECK(book::all_originals(test.open(book::Access::read)).empty());
        CHECK(test.stored_names().empty());
    }
}

TEST_CASE("a copy that cannot be read back is not proved") {
    const BookForTest test;
    write_photos(test.card, 1, 10'000);
    DoorForTest door;
    door.before = [](const std::string& operation, const std::filesystem::path& path) {
        if (operation == "open past cache") {
            throw FileError("cannot read", path, EIO);
        }
    };
    const auto result = test.dump(door);
    CHECK_FALSE(result.every_file_proved);
    CHECK(book::all_originals(test.open(book::Access::read)).empty());
}

TEST_CASE("too little room is said with both numbers before anything is copied") {
    const BookForTest test;
    write_photos(test.card, 3, 1'000'000);
    DoorForTest door;
    door.free_bytes_said = 2'000'000;
    CHECK_THROWS_WITH(test.dump(door), Contains("need 3.0 MB") && Contains("2.0 MB are free") &&
                                           Contains("make room and run the same command again"));
    CHECK(test.stored_names().empty());
    door.free_bytes_said = 3'100'000;
    // Both copies on one disk need it twice.
    CHECK_THROWS_WITH(test.dump(door, test.with_second()), Contains("need 6.0 MB"));
    CHECK(test.stored_names().empty());
    CHECK(test.dump(door).every_file_proved);
    // All is known now: nothing more is needed.
    door.free_bytes_said = 0;
    CHECK(test.dump(door).every_file_proved);
}

TEST_CASE("sizes are said as on a card's label") {
    CHECK(size_text(0) == "0 bytes");
    CHECK(size_text(999) == "999 bytes");
    CHECK(size_text(1000) == "1.0 kB");
    CHECK(size_text(999'960) == "1.0 MB");
    CHECK(size_text(31'234'567'890) == "31.2 GB");
    CHECK(size_text(5'000'000'000'000'000) == "5000.0 TB");
}

TEST_CASE(
    "a disk that fills up in the middle is told with the file and the count, and running again finishes") {
    const BookForTest test;
    write_photos(test.card, 40, 3000);
    const std::string failing = GENERATE("create", "write", "sync");
    CAPTURE(failing);
    DoorForTest door;
    int files = 0;
    door.before = [&](const std::string& operation, const std::filesystem::path& path) {
        if (operation == failing && path.extension() == ".part" && ++files > 12) {
            throw FileError("cannot write", path, ENOSPC);
        }
    };
    CHECK_THROWS_WITH(test.dump(door),
                      Contains("No space left on device") && Contains("FVA_0022.JPG") &&
                          Contains("12 of 40 files are in; make room and run the same command again"));
    CHECK(test.stored_names().size() == 12);
    CHECK(std::filesystem::is_empty(test.book / "photos/.incoming"));
    CHECK(test.dump().every_file_proved);
    test.check_holds_the_card();
}

TEST_CASE("on a full disk a card that is known already is still proved") {
    const BookForTest test;
    write_photos(test.card, 3, 3000);
    test.dump();
    DoorForTest door;
    door.before = [&](const std::string& operation, const std::filesystem::path& path) {
        if (operation == "write") {
            throw FileError("cannot write", path, ENOSPC);
        }
    };
    CHECK(test.dump(door).every_file_proved);
}

TEST_CASE(
    "a real disk that is full is refused, or told as it happens, and after making room the same call "
    "finishes") {
    const ScratchFolder folder;
    SmallDisk disk(folder / "small", "4m");
    if (!disk.mounted()) {
        WARN("NOT RUN: this user may not mount a memory disk, so no real disk was filled");
        return;
    }
    const auto card = folder / "card";
    const auto ballast = folder / "small/ballast";
    write_photos(card, 20, 100'000);
    const auto take = [&](FileDoor& door) {
        auto book = book::Book::open(folder / "small/book", book::Access::write, "dump");
        return take_in(book, card, BookForTest::options_for_test(), door);
    };
    book::Book::start(folder / "small/book", number::BookCode::from_typed("PET"), "Petrel", "test");
    write_file(ballast, std::string(2'500'000, 'b'));
    FileDoor door;
    CHECK_THROWS_WITH(take(door), Contains("not enough room") && Contains("nothing was copied"));
    DoorForTest late;  // somebody else fills the disk after the room was checked
    late.free_bytes_said = 1'000'000'000;
    CHECK_THROWS_AS(take(late), OutsideError);
    CHECK_THROWS_WITH(take(late), Contains("make room and run the same command again"));
    const auto stored = sums_under(folder / "small/book/photos").size();
    CHECK(stored > 3);
    CHECK(stored < 20);
    std::filesystem::remove(ballast);
    CHECK(take(door).every_file_proved);
    CHECK(different_sums(sums_under(folder / "small/book/photos")) == different_sums(sums_under(card)));
    CHECK(sums_under(folder / "small/book/photos").size() == 20);
}

TEST_CASE(
    "a second folder on another disk is not remarked on, and when that disk is full the first copies go on") {
    const ScratchFolder folder;
    SmallDisk disk(folder / "small", "1m");
    if (!disk.mounted()) {
        WARN("NOT RUN: this user may not mount a memory disk, so there was no other disk");
        return;
    }
    const BookForTest test;
    write_photos(test.card, 4, 200'000);
    auto options = BookForTest::options_for_test();
    options.second_folder = folder / "small";
    write_file(folder / "small/ballast", std::string(600'000, 'b'));
    CHECK_THROWS_WITH(test.dump(options), Contains("not enough room in") && Contains("small"));
    DoorForTest late;
    late.free_bytes_said = 1'000'000'000;
    const auto result = test.dump(late, options);
    CHECK(result.every_file_proved);
    CHECK_FALSE(result.every_file_proved_twice);
    CHECK(result.files[0].second_copy);
    CHECK_THAT(result.files[3].second_failure, Contains("No space left on device"));
    CHECK(result.remarks.empty());
    std::filesystem::remove(folder / "small/ballast");
    FileDoor door;
    CHECK(test.dump(door, options).every_file_proved_twice);
}
