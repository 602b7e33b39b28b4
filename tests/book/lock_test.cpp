#include "book/lock.h"

#include <chrono>

#include "book/clock.h"
#include "child_process.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Access;
using book::Book;
using book::Lock;

TEST_CASE("A file system is trusted to lock by its number", "[book]") {
    // Numbers from statfs(2), man-pages 6.03: "Filesystem types"
    for (const long refused : {0x6969L,         // NFS
                               0x517BL,         // SMB
                               0xFF534D42L,     // CIFS
                               0xFE534D42L,     // SMB2
                               0x65735546L,     // FUSE
                               0x01021997L,     // 9p
                               0x73757245L}) {  // Coda
        CHECK_FALSE(book::locking_can_be_trusted(refused));
    }
    for (const long fine : {0xEF53L,      // ext4
                            0x01021994L,  // tmpfs
                            0x9123683EL,  // btrfs
                            0x58465342L,  // xfs
                            0x4D44L,      // vfat
                            0x2011BAB0L,  // exfat
                            0x7366746EL,  // ntfs3 (fs/ntfs3/super.c of the Linux sources, "ntfs" backwards)
                            0x794C7630L}) {  // overlayfs
        CHECK(book::locking_can_be_trusted(fine));
    }
    // Where f_type is a signed 32-bit number, CIFS comes out negative.
    CHECK_FALSE(book::locking_can_be_trusted(static_cast<int>(0xFF534D42U)));
}

TEST_CASE("A second writer is told who has the book", "[book]") {
    const ScratchFolder scratch;
    new_book(scratch / "petrel");
    ChildProcess holder([&](const ChildProcess::Tell& tell) {
        const Book b = Book::open(scratch / "petrel", Access::write, "dump\x1b[31m");
        tell("open");
        pause();
    });
    REQUIRE(holder.heard() == "open");
    const auto start = std::chrono::steady_clock::now();
    const std::string message =
        message_of<BookError>([&] { Book::open(scratch / "petrel", Access::write, "report", 0.3); });
    const std::chrono::duration<double> waited = std::chrono::steady_clock::now() - start;
    INFO(message);
    CHECK_THAT(message, Catch::StartsWith("the book is in use: dump\\x1B[31m, since "));
    CHECK_THAT(message,
               Catch::EndsWith(", process " + std::to_string(holder.id()) + "; wait until it is done"));
    // Taken just now, the hour alone is shown: "17:02".
    const auto since = message.find("since ") + 6;
    CHECK(message.find(',', since) - since == 5);
    CHECK(message[since + 2] == ':');
    CHECK(waited.count() >= 0.3);
    CHECK(waited.count() < 5);
    // Reading goes on meanwhile.
    CHECK(Book::open(scratch / "petrel", Access::read, "find").code() == pet());
    // A dead holder holds nothing, whatever the line says that it left.
    holder.end_with(SIGKILL);
    CHECK_THAT(bytes_of(scratch / "petrel" / "book.lock"), Catch::Contains("process"));
    CHECK(Book::open(scratch / "petrel", Access::write, "report", 0).code() == pet());
}

TEST_CASE("A writer waits for another that is soon done", "[book]") {
    const ScratchFolder scratch;
    new_book(scratch / "petrel");
    ChildProcess holder([&](const ChildProcess::Tell& tell) {
        const Book b = Book::open(scratch / "petrel", Access::write, "dump");
        tell("open");
        usleep(300000);
    });
    REQUIRE(holder.heard() == "open");
    CHECK(Book::open(scratch / "petrel", Access::write, "report", 20).code() == pet());
    CHECK(holder.ended_well());
}

TEST_CASE("One process does not open a book twice for writing either", "[book]") {
    const ScratchFolder scratch;
    const Book first = new_book(scratch / "petrel");
    CHECK_THROWS_AS(Book::open(scratch / "petrel", Access::write, "report", 0), BookError);
}

TEST_CASE("A forked worker that ends does not let go of its parent's lock", "[book]") {
    const ScratchFolder scratch;
    const auto lock = std::make_unique<Lock>(scratch.path(), "dump", 0);
    ChildProcess worker([&](const ChildProcess::Tell& /*tell*/) { lock->~Lock(); });
    CHECK(worker.ended_well());
    CHECK_THROWS_AS(Lock(scratch.path(), "report", 0), BookError);
}

TEST_CASE("Two commands at once lose nothing", "[book]") {
    const ScratchFolder scratch;
    new_book(scratch / "petrel");
    const auto add_parts = [&](int first) {
        for (int i = 0; i < 25; ++i) {
            Book b = Book::open(scratch / "petrel", Access::write, "test", 60);
            book::save_part(b, book::Part(tag(first + 2 * i)), "Ana", "test");
        }
    };
    ChildProcess odd([&](const ChildProcess::Tell& /*tell*/) { add_parts(1); });
    ChildProcess even([&](const ChildProcess::Tell& /*tell*/) { add_parts(2); });
    CHECK(odd.ended_well());
    CHECK(even.ended_well());
    CHECK(book::all_parts(Book::open(scratch / "petrel", Access::read, "test")).size() == 50);
    CHECK(sqlite3_of(scratch / "petrel" / "book.db",
                     "PRAGMA integrity_check; SELECT count(*) FROM history") == "ok\n50");
}

TEST_CASE("A lock file that is a link is not followed", "[book]") {
    const ScratchFolder scratch;
    write_file(scratch / "precious", "do not touch");
    std::filesystem::create_symlink(scratch / "precious", scratch / "book.lock");
    CHECK_THROWS_AS(Lock(scratch.path(), "dump", 0), BookError);
    CHECK(bytes_of(scratch / "precious") == "do not touch");
}
