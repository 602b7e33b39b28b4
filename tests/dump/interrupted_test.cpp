// A dump broken off anywhere, then run again.
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <iostream>
#include <random>
#include <thread>

#include "book/originals.h"
#include "book/paths.h"
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

// Two new files, one of them of several chunks; one file twice; an empty one.
void write_small_card(const std::filesystem::path& card) {
    write_file(card / "DCIM/100FERRO/FVA_0001.JPG", photo_bytes(1'100'000, 1));
    write_file(card / "DCIM/100FERRO/FVA_0002.JPG", photo_bytes(500, 2));
    write_file(card / "DCIM/101FERRO/FVA_0001.JPG", photo_bytes(500, 2));
    write_file(card / "EMPTY.TXT", "");
}

// These tests break off hundreds of dumps, and what they look at does not depend on the disk: a memory disk,
// where there is one, saves minutes of waiting for syncs.
class OnMemoryDisk {
  public:
    OnMemoryDisk() {
        const char* before = std::getenv("TMPDIR");
        before_ = before == nullptr ? "" : before;
        if (access("/dev/shm", W_OK) == 0) {
            setenv("TMPDIR", "/dev/shm", 1);
        }
    }
    OnMemoryDisk(const OnMemoryDisk&) = delete;
    OnMemoryDisk& operator=(const OnMemoryDisk&) = delete;
    ~OnMemoryDisk() {
        if (before_.empty()) {
            unsetenv("TMPDIR");
        } else {
            setenv("TMPDIR", before_.c_str(), 1);
        }
    }

  private:
    std::string before_;
};

constexpr int killed_on_purpose = 77;

// Runs the dump in a process of its own; returns its exit status.
int in_a_child(const std::function<void()>& work) {
    const pid_t child = fork();
    if (child == 0) {
        try {
            work();
        } catch (...) {
            _exit(1);
        }
        _exit(0);
    }
    int status = 0;
    REQUIRE(waitpid(child, &status, 0) == child);
    return WIFEXITED(status) ? WEXITSTATUS(status) : -1;
}

// Breaks a dump off at its operation number `at` by `break_off`; false when the dump had fewer operations.
bool broken_off(const BookForTest& test, int at,
                const std::function<void(const std::filesystem::path&)>& break_off) {
    DoorForTest door;
    int operations = 0;
    door.before = [&](const std::string&, const std::filesystem::path& path) {
        if (++operations == at) {
            break_off(path);
        }
    };
    try {
        test.dump(door, test.with_second());
    } catch (const Error&) {
        REQUIRE(operations >= at);
    }
    return operations >= at;
}

void check_running_again_finishes(const BookForTest& test) {
    const auto result = test.dump(test.with_second());
    CHECK(result.every_file_proved_twice);
    test.check_holds_the_card();
    test.check_second_holds_the_card();
    CHECK(std::filesystem::is_empty(test.book / "photos/.incoming"));
    CHECK(std::filesystem::is_empty(test.second / "PET/.incoming"));
}

}  // namespace

TEST_CASE("a dump that fails at any single file operation is finished by running it again") {
    const OnMemoryDisk fast;
    bool more = true;
    int at = 1;
    for (; more; ++at) {
        CAPTURE(at);
        const BookForTest test;
        write_small_card(test.card);
        more = broken_off(
            test, at, [](const std::filesystem::path& path) { throw FileError("cannot use", path, EIO); });
        check_running_again_finishes(test);
    }
    CHECK(at > 60);
}

TEST_CASE("a dump whose process ends at any single file operation is finished by running it again") {
    const OnMemoryDisk fast;
    bool more = true;
    int at = 1;
    for (; more; ++at) {
        CAPTURE(at);
        const BookForTest test;
        write_small_card(test.card);
        const int status = in_a_child(
            [&] { broken_off(test, at, [](const std::filesystem::path&) { _exit(killed_on_purpose); }); });
        REQUIRE((status == killed_on_purpose || status == 0));
        more = status == killed_on_purpose;
        check_running_again_finishes(test);
    }
    CHECK(at > 60);
}

TEST_CASE("a dump that is killed again and again at random moments is finished by running it to its end") {
    const unsigned seed = GENERATE(1U, 2U, 3U);
    CAPTURE(seed);
    const OnMemoryDisk fast;
    const BookForTest test;
    std::mt19937 random(seed);
    for (int i = 1; i <= 200; ++i) {
        write_file(test.card / ("DCIM/100FERRO/FVA_0" + std::to_string(100 + i) + ".JPG"),
                   photo_bytes(100 + random() % 20'000, seed * 1000 + static_cast<unsigned>(i)));
    }
    int killed = 0;
    std::uniform_int_distribution<int> milliseconds(0, 150);
    for (int round = 0; round < 25; ++round) {
        const pid_t child = fork();
        if (child == 0) {
            try {
                test.dump(test.with_second());
            } catch (const std::exception& error) {
                std::cerr << "seed " << seed << ", round " << round << ": " << error.what() << "\n";
                _exit(1);
            }
            _exit(0);
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(milliseconds(random)));
        REQUIRE(kill(child, SIGKILL) == 0);
        int status = 0;
        REQUIRE(waitpid(child, &status, 0) == child);
        CHECK((WIFSIGNALED(status) || WEXITSTATUS(status) == 0));
        killed += WIFSIGNALED(status) ? 1 : 0;
    }
    CHECK(killed > 3);  // on a machine quick enough most rounds are over before their kill
    check_running_again_finishes(test);
}

TEST_CASE("what a killed dump left is put in its place or swept away, and strange things are left alone") {
    const BookForTest test;
    write_small_card(test.card);
    test.dump();
    const auto incoming = test.book / "photos/.incoming";
    const auto stored = test.book / "photos/0001/DCIM/100FERRO/FVA_0001.JPG";
    const std::string sum = output_of("sha256sum < " + quoted(stored)).substr(0, 64);
    const std::string sum_of_other =
        output_of("sha256sum < " + quoted(test.card / "DCIM/100FERRO/FVA_0002.JPG")).substr(0, 64);
    auto book = test.open();
    FileDoor door;
    write_file(incoming / "12.part", "half");
    write_file(incoming / std::string(64, 'a'), "recorded nowhere");
    write_file(incoming / sum_of_other, "the stored file is there already");
    SECTION("recorded and whole: it gets its place") {
        std::filesystem::rename(stored, incoming / sum);
        CHECK_THAT(finish_interrupted(book, door),
                   Catch::VectorContains(std::string(
                       "photos/0001/DCIM/100FERRO/FVA_0001.JPG: finished what an interrupted dump left")));
        CHECK(std::filesystem::exists(stored));
    }
    SECTION("recorded and damaged: it is not believed") {
        std::filesystem::remove(stored);
        write_file(incoming / sum, "damaged");
        const auto lines = finish_interrupted(book, door);
        REQUIRE(lines.size() == 1);
        CHECK_THAT(lines[0], Contains("FVA_0001.JPG") && Contains("is damaged"));
        CHECK_FALSE(std::filesystem::exists(stored));
    }
    SECTION("not from a dump: named and left") {
        write_file(incoming / "holiday.txt", "mine");
        std::filesystem::create_directory(incoming / "1.part");
        const auto lines = finish_interrupted(book, door);
        REQUIRE(lines.size() == 2);
        CHECK_THAT(lines[1], Contains("photos/.incoming/holiday.txt is not from a dump"));
        CHECK(std::filesystem::exists(incoming / "holiday.txt"));
        std::filesystem::remove(incoming / "holiday.txt");
        std::filesystem::remove(incoming / "1.part");
    }
    CHECK(std::filesystem::is_empty(incoming));
}
