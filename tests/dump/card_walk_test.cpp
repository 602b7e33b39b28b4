#include "dump/card_walk.h"

#include <sys/stat.h>

#include <algorithm>
#include <catch2/catch.hpp>

#include "dump/as_nobody.h"
#include "dump/card_for_test.h"
#include "dump/outside_tools.h"
#include "errors.h"
#include "scratch_folder.h"

using namespace stripbook;
using namespace stripbook::dump;
using namespace stripbook::test;
using Catch::Contains;

namespace {

std::vector<std::string> names_of(const CardWalk& walk) {
    std::vector<std::string> names;
    for (const auto& entry : walk.files) {
        names.push_back(entry.name);
    }
    return names;
}

bool left_out(const CardWalk& walk, const std::string& start, const std::string& part) {
    return std::any_of(walk.left_out.begin(), walk.left_out.end(), [&](const std::string& line) {
        return line.rfind(start, 0) == 0 && line.find(part) != std::string::npos;
    });
}

}  // namespace

TEST_CASE("every file on the card is listed once, in byte order, with its size, time, kind and DCF numbers") {
    const ScratchFolder folder;
    const auto card = folder / "card";
    write_file(card / "DCIM/100FERRO/FVA_0002.JPG", "22");
    write_file(card / "DCIM/100FERRO/FVA_0001.JPG", "1");
    write_file(card / "DCIM/100FERRO/.DS_Store", "x");
    write_file(card / "MISC/empty.txt", "");
    write_file(card / "Thumbs.db", "x");
    std::filesystem::create_directories(card / "EMPTY");
    output_of("touch -d '2026-03-20T08:58:15.5Z' " + quoted(card / "DCIM/100FERRO/FVA_0001.JPG"));
    const CardWalk walk = walk_card(card, folder / "book");
    CHECK(names_of(walk) == std::vector<std::string>{"DCIM/100FERRO/.DS_Store", "DCIM/100FERRO/FVA_0001.JPG",
                                                     "DCIM/100FERRO/FVA_0002.JPG", "MISC/empty.txt",
                                                     "Thumbs.db"});
    CHECK(walk.has_dcim);
    CHECK(walk.left_out.empty());
    CHECK_FALSE(walk.something_unreadable);
    const CardEntry& photo = walk.files[1];
    CHECK(photo.bytes == 1);
    CHECK(photo.modified_seconds == 1773997095.5);  // date -u -d 2026-03-20T08:58:15 +%s
    CHECK(photo.kind == book::FileKind::photo);
    CHECK(photo.dcf_directory == 100);
    CHECK(photo.dcf_counter == 1);
    CHECK(walk.files[0].kind == book::FileKind::other);
}

TEST_CASE("a card without a file, and a folder without DCIM, are no faults") {
    const ScratchFolder folder;
    std::filesystem::create_directories(folder / "card/a/b");
    const CardWalk walk = walk_card(folder / "card", folder / "book");
    CHECK(walk.files.empty());
    CHECK(walk.left_out.empty());
    CHECK_FALSE(walk.has_dcim);
    CHECK_FALSE(walk.something_unreadable);
}

TEST_CASE("links, pipes and sockets are left out by name, never followed, and rounds of links end") {
    const ScratchFolder folder;
    const auto card = folder / "card";
    write_file(card / "a.JPG", "a");
    write_file(folder / "outside/secret", "s");
    std::filesystem::create_directory_symlink(folder / "outside", card / "out");
    std::filesystem::create_symlink("..", card / "up");
    std::filesystem::create_symlink("round", card / "round");
    std::filesystem::create_symlink("odd\nplace", card / "a.JPG\nlink");
    REQUIRE(mkfifo((card / "pipe").c_str(), 0600) == 0);
    const CardWalk walk = walk_card(card, folder / "book");
    CHECK(names_of(walk) == std::vector<std::string>{"a.JPG"});
    CHECK(walk.left_out.size() == 5);
    CHECK(left_out(walk, "out:", "/outside\""));
    CHECK(left_out(walk, "up:", "link to \"..\""));
    CHECK(left_out(walk, "round:", "link to \"round\""));
    CHECK(left_out(walk, "a.JPG\\x0Alink:", "\"odd\\x0Aplace\""));
    CHECK(left_out(walk, "pipe:", "no file"));
    CHECK_FALSE(walk.something_unreadable);
}

TEST_CASE("names are taken as the bytes they are") {
    const ScratchFolder folder;
    const std::vector<std::string> odd{" space ", "\"quote'", "new\nline", "not utf-8 \xFF\xFE",
                                       "\xC3\xA4.JPG"};
    for (const auto& name : odd) {
        write_file(folder.path() / "card" / name, "x");
    }
    auto expected = odd;
    std::sort(expected.begin(), expected.end());
    CHECK(names_of(walk_card(folder / "card", folder / "book")) == expected);
}

TEST_CASE("a card may be given by a link and with a slash or dots in its name") {
    const ScratchFolder folder;
    write_file(folder / "card/a.JPG", "a");
    std::filesystem::create_directory(folder / "book");
    std::filesystem::create_directory_symlink(folder / "card", folder / "link");
    CHECK(walk_card(folder / "link", folder / "book").files.size() == 1);
    CHECK(walk_card(folder / "card/", folder / "book").files.size() == 1);
    CHECK(walk_card(folder / "book/../card/.", folder / "book").files.size() == 1);
}

TEST_CASE("what is no card is refused in words") {
    const ScratchFolder folder;
    write_file(folder / "file", "x");
    std::filesystem::create_directories(folder / "book/photos");
    std::filesystem::create_directories(folder / "bookshelf");
    std::filesystem::create_symlink("nowhere", folder / "dangling");
    std::filesystem::create_directory_symlink(folder / "book", folder / "by link");
    const auto book = folder / "book";
    CHECK_THROWS_AS(walk_card(folder / "none", book), WrongUse);
    CHECK_THROWS_AS(walk_card(folder / "dangling", book), WrongUse);
    CHECK_THROWS_AS(walk_card(folder / "file", book), WrongUse);
    CHECK_THROWS_WITH(walk_card(book, book), Contains("inside the job book"));
    CHECK_THROWS_WITH(walk_card(folder / "book/photos/", book), Contains("inside the job book"));
    CHECK_THROWS_WITH(walk_card(folder / "by link/photos", book), Contains("inside the job book"));
    CHECK_THROWS_WITH(walk_card(folder.path(), book), Contains("holds the job book"));
    CHECK_THROWS_WITH(walk_card(folder.path(), folder / "book/"), Contains("holds the job book"));
    CHECK_NOTHROW(walk_card(folder / "bookshelf", book));
}

TEST_CASE(
    "too many folders in each other are named and make the card unfit to wipe, and too many files are "
    "refused") {
    const ScratchFolder folder;
    write_file(folder / "card/1/2/3/deep.JPG", "x");
    write_file(folder / "card/1/2/near.JPG", "x");
    const CardWalk walk = walk_card(folder / "card", folder / "book", {2, 10});
    CHECK(names_of(walk) == std::vector<std::string>{"1/2/near.JPG"});
    CHECK(left_out(walk, "1/2/3:", "more than 2 folders deep"));
    CHECK(walk.something_unreadable);
    CHECK(walk_card(folder / "card", folder / "book", {3, 2}).files.size() == 2);
    CHECK_THROWS_WITH(walk_card(folder / "card", folder / "book", {3, 1}), Contains("more than 1 files"));
}

TEST_CASE("a hundred folders in each other do no harm") {
    const ScratchFolder folder;
    std::string name = "card";
    for (int i = 0; i < 100; ++i) {
        name += "/d";
    }
    write_file(folder.path() / name / "a.JPG", "x");
    const CardWalk walk = walk_card(folder / "card", folder / "book");
    CHECK(walk.files.empty());
    CHECK(walk.something_unreadable);
}

TEST_CASE("a folder that may not be read is named, and the card is not fit to wipe") {
    const ScratchFolder folder;
    const auto card = folder / "card";
    write_file(card / "open/a.JPG", "a");
    write_file(card / "closed/b.JPG", "b");
    std::filesystem::permissions(folder.path(), std::filesystem::perms(0755));
    std::filesystem::permissions(card / "closed", std::filesystem::perms(0));
    const int status = as_nobody([&] {
        const CardWalk walk = walk_card(card, folder / "book");
        return walk.files.size() == 1 && walk.something_unreadable &&
               left_out(walk, "closed:", "Permission denied");
    });
    CHECK(status == 0);
    std::filesystem::permissions(card, std::filesystem::perms(0));
    const int status_of_closed_card = as_nobody([&] {
        try {
            walk_card(card, folder / "book");
        } catch (const OutsideError& error) {
            return std::string(error.what()).find("cannot read the card") == 0;
        }
        return false;
    });
    CHECK(status_of_closed_card == 0);
    std::filesystem::permissions(card, std::filesystem::perms(0755));
    std::filesystem::permissions(card / "closed", std::filesystem::perms(0755));
}
