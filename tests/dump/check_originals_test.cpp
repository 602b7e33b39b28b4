#include "dump/check_originals.h"

#include <sys/stat.h>

#include <catch2/catch.hpp>
#include <cerrno>

#include "dump/book_for_test.h"
#include "dump/card_for_test.h"
#include "dump/door_for_test.h"
#include "dump/outside_tools.h"
#include "errors.h"

using namespace stripbook;
using namespace stripbook::dump;
using namespace stripbook::test;
using Catch::Contains;

namespace {

// A book with three photos in two folders.
class CheckedBook {
  public:
    CheckedBook() {
        write_file(test.card / "DCIM/100FERRO/FVA_0001.JPG", photo_bytes(5000, 1));
        write_file(test.card / "DCIM/100FERRO/FVA_0002.JPG", photo_bytes(1'500'000, 2));
        write_file(test.card / "DCIM/101FERRO/FVA_0003.JPG", photo_bytes(10, 3));
        test.dump();
    }
    CheckResult check(FileDoor& door) const { return check_originals(test.open(book::Access::read), door); }
    CheckResult check() const {
        FileDoor door;
        return check(door);
    }

    const BookForTest test;
    const std::filesystem::path photos = test.book / "photos/0001/DCIM";
};

}  // namespace

TEST_CASE("a book in order is found good, and every byte was read") {
    const CheckedBook checked;
    const auto result = checked.check();
    CHECK(result.good());
    CHECK(result.files == 3);
    CHECK(result.bytes == 1'505'010);
}

TEST_CASE("a missing original is named with what to do") {
    const CheckedBook checked;
    std::filesystem::remove(checked.photos / "100FERRO/FVA_0001.JPG");
    const auto result = checked.check();
    REQUIRE(result.missing.size() == 1);
    CHECK_THAT(result.missing[0], Contains("photos/0001/DCIM/100FERRO/FVA_0001.JPG: is missing; if a card"));
    CHECK_FALSE(result.good());
    CHECK(result.files == 2);
}

TEST_CASE("one changed bit is found, also when length and time stayed as they were") {
    const CheckedBook checked;
    const auto path = checked.photos / "100FERRO/FVA_0002.JPG";
    const auto time = std::filesystem::last_write_time(path);
    std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
    file.seekg(1'200'000);
    const int byte = file.get();
    file.seekp(1'200'000);
    file.put(static_cast<char>(byte ^ 1));
    file.close();
    std::filesystem::last_write_time(path, time);
    const auto result = checked.check();
    REQUIRE(result.changed.size() == 1);
    CHECK_THAT(result.changed[0], Contains("FVA_0002.JPG: is not what was taken in"));
}

TEST_CASE("links, folders and pipes in an original's place are changes, and nothing behind a link is read") {
    const CheckedBook checked;
    SECTION("a link to the very bytes") {
        std::filesystem::rename(checked.photos / "100FERRO/FVA_0001.JPG", checked.test.folder / "elsewhere");
        std::filesystem::create_symlink(checked.test.folder / "elsewhere",
                                        checked.photos / "100FERRO/FVA_0001.JPG");
    }
    SECTION("a folder") {
        std::filesystem::remove(checked.photos / "100FERRO/FVA_0001.JPG");
        std::filesystem::create_directory(checked.photos / "100FERRO/FVA_0001.JPG");
    }
    SECTION("a pipe") {
        std::filesystem::remove(checked.photos / "100FERRO/FVA_0001.JPG");
        REQUIRE(mkfifo((checked.photos / "100FERRO/FVA_0001.JPG").c_str(), 0600) == 0);
    }
    const auto result = checked.check();
    REQUIRE(result.changed.size() == 1);
    CHECK_THAT(result.changed[0], Contains("photos/0001/DCIM/100FERRO/FVA_0001.JPG: "));
    CHECK(result.files == 2);
    CHECK(result.extra.empty());
    CHECK(result.missing.empty());
}

TEST_CASE("a whole folder that became a link is a change of each original in it") {
    const CheckedBook checked;
    std::filesystem::rename(checked.photos / "100FERRO", checked.test.folder / "elsewhere");
    std::filesystem::create_directory_symlink(checked.test.folder / "elsewhere", checked.photos / "100FERRO");
    const auto result = checked.check();
    CHECK(result.changed.size() == 3);
    CHECK(result.files == 1);
}

TEST_CASE("files that came in by no dump are named, and what an interrupted dump left is told apart") {
    const CheckedBook checked;
    write_file(checked.photos / "100FERRO/edited\n.JPG", "x");
    write_file(checked.test.book / "photos/note.txt", "x");
    std::filesystem::create_directory(checked.test.book / "photos/0007");
    auto result = checked.check();
    REQUIRE(result.extra.size() == 2);
    CHECK_THAT(result.extra[0],
               Contains("photos/0001/DCIM/100FERRO/edited\\x0A.JPG: did not come in by a dump"));
    CHECK_THAT(result.extra[1], Contains("photos/note.txt: "));
    write_file(checked.test.book / "photos/.incoming/3.part", "x");
    result = checked.check();
    REQUIRE(result.extra.size() == 3);
    CHECK_THAT(result.extra[0], Contains("photos/.incoming: left by an interrupted dump: run dump again"));
}

TEST_CASE("an original that cannot be read is named apart from changed ones") {
    const CheckedBook checked;
    DoorForTest door;
    door.before = [&](const std::string& operation, const std::filesystem::path& path) {
        if (operation == "read" && path.filename() == "FVA_0001.JPG") {
            throw FileError("cannot read", path, EIO);
        }
    };
    const auto result = checked.check(door);
    REQUIRE(result.unreadable.size() == 1);
    CHECK_THAT(result.unreadable[0], Contains("FVA_0001.JPG") && Contains("Input/output error"));
    CHECK(result.changed.empty());
    CHECK(result.files == 2);
}

TEST_CASE("a check changes nothing, and can be stopped") {
    const CheckedBook checked;
    const std::string before = everything_about(checked.test.book / "photos");
    checked.check();
    CHECK(everything_about(checked.test.book / "photos") == before);
    FileDoor door;
    int asked = 0;
    const auto book = checked.test.open(book::Access::read);
    CHECK_THROWS_AS(check_originals(book, door, {}, [&] { return ++asked > 2; }), Stopped);
}
