// Cards that go away, and files on them that cannot be read or change.
#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <cerrno>

#include "dump/as_nobody.h"
#include "dump/book_for_test.h"
#include "dump/card_for_test.h"
#include "dump/door_for_test.h"
#include "dump/small_disk.h"
#include "errors.h"

using namespace stripbook;
using namespace stripbook::dump;
using namespace stripbook::test;
using Catch::Contains;

TEST_CASE("one file that the card cannot give is named, and all the others are taken in") {
    const BookForTest test;
    write_photos(test.card, 5, 1'200'000);
    DoorForTest door;
    int reads = 0;
    door.before = [&](const std::string& operation, const std::filesystem::path& path) {
        if (operation == "read" && path == test.card / "FVA_0012.JPG" && ++reads == 2) {
            throw FileError("cannot read", path, EIO);
        }
    };
    const auto result = test.dump(door);
    CHECK_FALSE(result.every_file_proved);
    CHECK(result.files.size() == 5);
    CHECK_THAT(result.files[2].failure, Contains("FVA_0012.JPG") && Contains("Input/output error") &&
                                            Contains("do not wipe the card"));
    CHECK_FALSE(result.files[2].original);
    CHECK(result.files[2].sha256.empty());
    CHECK(test.stored_names().size() == 4);
    CHECK(test.dump().every_file_proved);
    test.check_holds_the_card();
}

TEST_CASE("a file without permission is a failure of that file") {
    const ScratchFolder folder;
    write_photos(folder / "card", 2, 100);
    std::filesystem::permissions(folder / "card/FVA_0010.JPG", std::filesystem::perms(0));
    std::filesystem::permissions(folder.path(), std::filesystem::perms(0777));
    const int status = as_nobody([&] {
        auto book = book::Book::start(folder / "book", number::BookCode::from_typed("PET"), "Petrel", "test");
        FileDoor door;
        const auto result = take_in(book, folder / "card", BookForTest::options_for_test(), door);
        return !result.every_file_proved && result.files[1].failure.empty() &&
               result.files[0].failure.find("Permission denied") != std::string::npos;
    });
    CHECK(status == 0);
}

TEST_CASE("a pipe put in a file's place after the card was looked through is a failure, not a wait") {
    const BookForTest test;
    write_photos(test.card, 2, 100);
    DoorForTest door;
    door.before = [&](const std::string& operation, const std::filesystem::path& path) {
        if (operation == "open to read" && path == test.card / "FVA_0010.JPG" &&
            std::filesystem::is_regular_file(path)) {
            std::filesystem::remove(path);
            REQUIRE(mkfifo(path.c_str(), 0600) == 0);
        }
        if (operation == "open to read" && path == test.card / "FVA_0011.JPG") {
            std::filesystem::remove(path);
            std::filesystem::create_symlink("/etc/hostname", path);
        }
    };
    const auto result = test.dump(door);
    CHECK_FALSE(result.files[0].failure.empty());
    CHECK_FALSE(result.files[1].failure.empty());
    CHECK(test.stored_names().empty());
}

TEST_CASE("a file that grew or shrank since the card was looked through is taken as it is read") {
    const BookForTest test;
    write_photos(test.card, 2, 5000);
    DoorForTest door;
    door.before = [&](const std::string& operation, const std::filesystem::path& path) {
        if (operation == "open to read" && path == test.card / "FVA_0010.JPG") {
            write_file(path, photo_bytes(9000, 1));
        }
        if (operation == "open to read" && path == test.card / "FVA_0011.JPG") {
            write_file(path, "");
        }
    };
    const auto result = test.dump(door);
    CHECK(result.every_file_proved);
    CHECK(result.files[0].bytes == 9000);
    CHECK(result.files[1].bytes == 0);
    test.check_holds_the_card();
}

TEST_CASE("a card that goes away is told with the count, and putting it back finishes") {
    const BookForTest test;
    write_photos(test.card, 40, 3000);
    const auto pulled = test.folder / "pulled";
    DoorForTest door;
    const auto pull_at = [&](const std::string& name, const std::function<void()>& pull, int reason) {
        door.before = [&test, name, pull, reason](const std::string& operation,
                                                  const std::filesystem::path& path) {
            if (operation == "read" && path == test.card / name) {
                pull();
                throw FileError("cannot read", path, reason);
            }
        };
    };
    SECTION("its folder is gone") {
        pull_at(
            "FVA_0022.JPG", [&] { std::filesystem::rename(test.card, pulled); }, EIO);
    }
    SECTION("an empty mount point is left") {
        pull_at(
            "FVA_0022.JPG",
            [&] {
                std::filesystem::rename(test.card, pulled);
                std::filesystem::create_directory(test.card);
            },
            ENODEV);
    }
    CHECK_THROWS_WITH(test.dump(door), Contains("has gone away after 12 of 40 files") &&
                                           Contains("put it back and run the same command again"));
    CHECK(test.stored_names().size() == 12);
    std::filesystem::remove(test.card);
    std::filesystem::rename(pulled, test.card);
    CHECK(test.dump().every_file_proved);
    test.check_holds_the_card();
}

TEST_CASE("a card that is pulled out of its reader for real is told as gone") {
    const ScratchFolder folder;
    SmallDisk disk(folder / "card", "4m");
    if (!disk.mounted()) {
        WARN("NOT RUN: this user may not mount a memory disk, so no card could be pulled");
        return;
    }
    write_photos(folder / "card", 5, 3000);
    const BookForTest test;
    DoorForTest door;
    door.before = [&](const std::string& operation, const std::filesystem::path& path) {
        if (operation == "open to read" && path.filename() == "FVA_0012.JPG") {
            disk.unmount();
        }
    };
    auto book = test.open();
    CHECK_THROWS_WITH(take_in(book, folder / "card", BookForTest::options_for_test(), door),
                      Contains("has gone away after 2 of 5 files"));
}
