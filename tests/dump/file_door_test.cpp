#include "dump/file_door.h"

#include <sys/stat.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cerrno>
#include <chrono>

#include "dump/card_for_test.h"
#include "dump/outside_tools.h"
#include "dump/part_file.h"
#include "scratch_folder.h"

using namespace stripbook;
using namespace stripbook::dump;
using namespace stripbook::test;

namespace {

int reason_of(const std::function<void()>& work) {
    try {
        work();
    } catch (const FileError& error) {
        return error.reason();
    }
    return 0;
}

std::string whole(Source& source) {
    std::string bytes;
    for (;;) {
        const auto chunk = source.read(chunk_bytes);
        if (chunk.empty()) {
            return bytes;
        }
        bytes += chunk;
    }
}

}  // namespace

TEST_CASE("what goes through the door comes back, cached or past the cache, at every odd length") {
    const ScratchFolder folder;
    FileDoor door;
    for (const std::size_t length :
         {0U, 1U, 511U, 512U, 4095U, 4096U, 4097U, 1048575U, 1048576U, 1048577U, 3000001U}) {
        CAPTURE(length);
        const std::string bytes = photo_bytes(length, static_cast<unsigned>(length));
        const auto path = folder / std::to_string(length);
        const auto sink = door.create(path);
        sink->write(bytes.substr(0, length / 3));
        sink->write(bytes.substr(length / 3));
        sink->sync_and_close();
        CHECK(whole(*door.open_to_read(path)) == bytes);
        CHECK(whole(*door.open_past_cache(path)) == bytes);
        const auto by_hand = output_of("sha256sum < " + quoted(path)).substr(0, 64);
        CHECK(hash_of(*door.open_past_cache(path), [](std::string_view) {}) == by_hand);
    }
}

TEST_CASE("reading back past the cache leaves nothing of the file in the cache") {
    const ScratchFolder folder;
    if (output_of("stat -f -c %T " + quoted(folder.path())).rfind("tmpfs", 0) == 0) {
        WARN("not checked: " << folder.path() << " is a memory disk, which has nothing but the cache");
        return;
    }
    FileDoor door;
    const auto path = folder / "large";
    const auto sink = door.create(path);
    sink->write(photo_bytes(5'000'001, 1));
    sink->sync_and_close();
    // fincore (util-linux) counts the bytes of a file that are in the page cache.
    const std::string in_cache = "fincore -b -n -o RES " + quoted(path);
    REQUIRE(std::stoll(output_of(in_cache)) > 0);
    CHECK(whole(*door.open_past_cache(path)).size() == 5'000'001);
    CHECK(std::stoll(output_of(in_cache)) <= 4096);  // the odd end, where O_DIRECT gives up
}

TEST_CASE("the door never replaces a file") {
    const ScratchFolder folder;
    FileDoor door;
    write_file(folder / "a", "first");
    write_file(folder / "b", "second");
    CHECK(reason_of([&] { door.create(folder / "a"); }) == EEXIST);
    CHECK(reason_of([&] { door.rename(folder / "b", folder / "a"); }) == EEXIST);
    CHECK(whole(*door.open_to_read(folder / "a")) == "first");
    door.rename(folder / "b", folder / "c");
    CHECK(whole(*door.open_to_read(folder / "c")) == "second");
    CHECK_FALSE(door.look(folder / "b"));
}

TEST_CASE("links, pipes and folders are not read, and a pipe does not make the program wait") {
    const ScratchFolder folder;
    FileDoor door;
    write_file(folder / "file", "bytes");
    std::filesystem::create_symlink("file", folder / "link");
    REQUIRE(mkfifo((folder / "pipe").c_str(), 0600) == 0);
    std::filesystem::create_directory(folder / "folder");
    const auto begun = std::chrono::steady_clock::now();
    for (const char* name : {"link", "pipe", "folder"}) {
        CAPTURE(name);
        CHECK(reason_of([&] { door.open_to_read(folder / name); }) != 0);
        CHECK(reason_of([&] { door.open_past_cache(folder / name); }) != 0);
    }
    CHECK(std::chrono::steady_clock::now() - begun < std::chrono::seconds(5));
    CHECK(door.look(folder / "file")->kind == EntryKind::file);
    CHECK(door.look(folder / "file")->bytes == 5);
    CHECK(door.look(folder / "link")->kind == EntryKind::link);
    CHECK(door.look(folder / "pipe")->kind == EntryKind::other);
    CHECK(door.look(folder / "folder")->kind == EntryKind::folder);
    CHECK_FALSE(door.look(folder / "file" / "under a file"));
}

TEST_CASE("folders are made with all above them, and a file in the way is said") {
    const ScratchFolder folder;
    FileDoor door;
    door.make_folders(folder / "a" / "b" / "c");
    door.make_folders(folder / "a" / "b" / "c");
    CHECK(std::filesystem::is_directory(folder / "a" / "b" / "c"));
    write_file(folder / "a" / "file", "");
    CHECK(reason_of([&] { door.make_folders(folder / "a" / "file"); }) == ENOTDIR);
    CHECK(reason_of([&] { door.make_folders(folder / "a" / "file" / "d"); }) == ENOTDIR);
    CHECK(door.names_in(folder / "a") == std::vector<std::string>{"b", "file"});
    CHECK(door.names_in(folder / "not there").empty());
}

TEST_CASE("a failure names the file in printable form and the system's reason") {
    FileDoor door;
    CHECK_THROWS_WITH(door.open_to_read("/not there\n/a"), Catch::Contains("\"/not there\\x0A/a\"") &&
                                                               Catch::Contains("No such file or directory"));
    CHECK(FileError("cannot write", "a", ENOSPC).disk_full());
    CHECK(FileError("cannot write", "a", EDQUOT).disk_full());
    CHECK_FALSE(FileError("cannot write", "a", EIO).disk_full());
}
