// What a killed command, a full disk, a read-only disk and a missing permission do to a book.
#include <sys/mount.h>

#include "book/history.h"
#include "book/sql_access.h"
#include "child_process.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Access;
using book::Book;
namespace fs = std::filesystem;

namespace {

// Leaves a book whose writer was killed in the middle of a transaction, with half of it already in book.db.
void leave_half_written(const fs::path& folder) {
    ChildProcess writer([&](const ChildProcess::Tell& tell) {
        Book b = Book::open(folder, Access::write, "dump");
        book::SqlAccess::database(b).exec("PRAGMA cache_size = 10");
        b.together([&] {
            for (int i = 1; i <= 3000; ++i) {
                book::save_part(b, book::Part(tag(i)), "Ana", "test");
            }
            tell("half done");
            pause();
        });
    });
    REQUIRE(writer.heard() == "half done");
    writer.end_with(SIGKILL);
}

std::string serials_in(const Book& b) {
    std::string serials;
    for (const auto& part : book::all_parts(b)) {
        serials += std::to_string(part.tag.serial()) + " ";
    }
    return serials;
}

}  // namespace

TEST_CASE("A command killed in the middle of a transaction leaves the book as it was", "[book]") {
    const ScratchFolder scratch;
    {
        Book b = new_book(scratch / "petrel");
        book::save_part(b, book::Part(tag(99999)), "Ana", "test");
    }
    const fs::path file = scratch / "petrel" / "book.db";
    const std::string before = bytes_of(file);
    for (const Access access : {Access::read, Access::write}) {
        leave_half_written(scratch / "petrel");
        REQUIRE(bytes_of(file) != before);  // else nothing would be proved
        REQUIRE(fs::file_size(file.string() + "-journal") > 0);
        {
            const Book b = Book::open(scratch / "petrel", access, "test", 0);
            CHECK(serials_in(b) == "99999 ");
        }
        CHECK(bytes_of(file) == before);
        CHECK_FALSE(fs::exists(file.string() + "-journal"));
        CHECK(sqlite3_of(file, "PRAGMA integrity_check") == "ok");
    }
    Book b = Book::open(scratch / "petrel", Access::write, "test", 0);
    book::save_part(b, book::Part(tag(1)), "Ana", "test");
    CHECK(serials_in(b) == "1 99999 ");
}

TEST_CASE("A person who may only read can read the book, and nothing is written", "[book]") {
    const ScratchFolder scratch;
    {
        Book b = new_book(scratch / "petrel");
        book::save_part(b, book::Part(tag(417)), "Ana", "test");
    }
    fs::remove(scratch / "petrel" / "book.lock");
    fs::permissions(scratch.path(), fs::perms::owner_all | fs::perms::group_all | fs::perms::others_read |
                                        fs::perms::others_exec);
    fs::permissions(scratch / "petrel", fs::perms(0555));
    fs::permissions(scratch / "petrel" / "book.db", fs::perms(0444));
    ChildProcess reader([&](const ChildProcess::Tell& tell) {
        become_nobody();
        tell(serials_in(Book::open(scratch / "petrel", Access::read, "find")));
        tell(message_of<BookError>([&] { Book::open(scratch / "petrel", Access::write, "dump", 0); }));
    });
    CHECK(reader.heard() == "417 ");
    CHECK_THAT(reader.heard(), Catch::Contains("you may not write in"));
    CHECK(reader.ended_well());
    CHECK_FALSE(fs::exists(scratch / "petrel" / "book.lock"));
    fs::permissions(scratch / "petrel", fs::perms(0755));
    // The folder may be written, the file not: SQLite alone would open it for reading and fail late.
    fs::permissions(scratch / "petrel", fs::perms(0777));
    ChildProcess second([&](const ChildProcess::Tell& tell) {
        become_nobody();
        tell(message_of<BookError>([&] { Book::open(scratch / "petrel", Access::write, "dump", 0); }));
    });
    CHECK_THAT(second.heard(), Catch::Contains("can only be read here"));
    // And one who may not even read.
    fs::permissions(scratch / "petrel" / "book.db", fs::perms(0));
    ChildProcess third([&](const ChildProcess::Tell& tell) {
        become_nobody();
        tell(message_of<BookError>([&] { Book::open(scratch / "petrel", Access::read, "find"); }));
    });
    CHECK_THAT(third.heard(), Catch::Contains("check that you may read it"));
}

TEST_CASE("A half-written book where nothing may be written says so", "[book]") {
    const ScratchFolder scratch;
    new_book(scratch / "petrel");
    leave_half_written(scratch / "petrel");
    const fs::path file = scratch / "petrel" / "book.db";
    const std::string before = bytes_of(file);
    fs::permissions(scratch.path(), fs::perms(0755));
    fs::permissions(scratch / "petrel", fs::perms(0555));
    fs::permissions(file, fs::perms(0444));
    fs::permissions(file.string() + "-journal", fs::perms(0444));
    ChildProcess reader([&](const ChildProcess::Tell& tell) {
        become_nobody();
        tell(message_of<BookError>([&] { Book::open(scratch / "petrel", Access::read, "find"); }));
    });
    CHECK_THAT(reader.heard(), Catch::Contains("was killed while it wrote"));
    CHECK(reader.ended_well());
    CHECK(bytes_of(file) == before);
    fs::permissions(scratch / "petrel", fs::perms(0755));
}

TEST_CASE("A book on a read-only disk can be read", "[book]") {
    const ScratchFolder scratch;
    {
        Book b = new_book(scratch / "petrel");
        book::save_part(b, book::Part(tag(417)), "Ana", "test");
    }
    ChildProcess reader([&](const ChildProcess::Tell& tell) {
        const std::string folder = (scratch / "petrel").string();
        constexpr unsigned long read_only = MS_BIND | MS_REMOUNT | MS_RDONLY;
        if (unshare(CLONE_NEWNS) != 0 || mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0 ||
            mount(folder.c_str(), folder.c_str(), nullptr, MS_BIND, nullptr) != 0 ||
            mount("none", folder.c_str(), nullptr, read_only, nullptr) != 0) {
            tell("no mounting here");
            return;
        }
        tell(serials_in(Book::open(folder, Access::read, "find")));
        tell(message_of<BookError>([&] { Book::open(folder, Access::write, "dump", 0); }));
    });
    const std::string serials = reader.heard();
    if (serials == "no mounting here") {
        WARN("this machine does not let a test mount a disk (only root may): not tested");
        return;
    }
    CHECK(serials == "417 ");
    CHECK_THAT(reader.heard(), Catch::Contains("lies on a read-only disk"));
}

TEST_CASE("A full disk is named, and the transaction it broke is undone whole", "[book]") {
    const ScratchFolder scratch;
    Book b = new_book(scratch / "petrel");
    book::save_part(b, book::Part(tag(99999)), "Ana", "test");
    // SQLite's own limit on pages gives the error that a full disk gives.
    auto& database = book::SqlAccess::database(b);
    database.execAndGet("PRAGMA max_page_count = " + database.execAndGet("PRAGMA page_count").getString());
    const auto fill = [&] {
        b.together([&] {
            for (int i = 1; i <= 2000; ++i) {
                try {
                    book::save_part(b, book::Part(tag(i)), "Ana", "test");
                } catch (const OutsideError& error) {
                    CHECK_THAT(error.what(), Catch::Contains("the disk is full"));
                    throw;
                }
            }
        });
    };
    CHECK_THROWS_AS(fill(), OutsideError);
    CHECK(serials_in(b) == "99999 ");
    database.execAndGet("PRAGMA max_page_count = 1000000");
    fill();
    CHECK(book::all_parts(b).size() == 2001);
    CHECK(sqlite3_of(scratch / "petrel" / "book.db", "PRAGMA integrity_check") == "ok");
}

TEST_CASE("On a disk that is really full the book stays whole", "[book]") {
    const ScratchFolder scratch;
    const std::string disk = (scratch / "disk").string();
    fs::create_directory(disk);
    ChildProcess worker([&](const ChildProcess::Tell& tell) {
        if (unshare(CLONE_NEWNS) != 0 || mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr) != 0 ||
            mount("none", disk.c_str(), "tmpfs", 0, "size=1m") != 0) {
            tell("no mounting here");
            return;
        }
        Book b = new_book(disk + "/petrel");
        tell(message_of<OutsideError>([&] {
            for (int first = 1; first < 99000; first += 100) {
                b.together([&] {
                    for (int i = first; i < first + 100; ++i) {
                        book::save_part(b, book::Part(tag(i)), "Ana", "test");
                    }
                });
            }
        }));
        const auto kept = book::all_parts(b).size();
        tell(kept > 0 && kept % 100 == 0 ? "whole transactions only" : serials_in(b));
        tell(sqlite3_of(disk + "/petrel/book.db", "PRAGMA integrity_check"));
        write_file(disk + "/filler", std::string(1U << 20U, 'x'));  // what the undone transaction left free
        tell(message_of<OutsideError>([&] { new_book(disk + "/second"); }));
        mount("none", disk.c_str(), nullptr, MS_REMOUNT,
              "size=2m");  // room is made, and the same command run again
        tell(new_book(disk + "/second").code().text());
    });
    const std::string message = worker.heard();
    if (message == "no mounting here") {
        WARN("this machine does not let a test mount a disk (only root may): not tested");
        return;
    }
    CHECK_THAT(message, Catch::Contains("the disk is full"));
    CHECK(worker.heard() == "whole transactions only");
    CHECK(worker.heard() == "ok");
    CHECK_THAT(worker.heard(), Catch::Contains("second") && Catch::Contains("the disk is full"));
    CHECK(worker.heard() == "PET");
    CHECK(worker.ended_well());
}
