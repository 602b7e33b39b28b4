#include "print/report_file.h"

#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <catch2/catch.hpp>
#include <csignal>
#include <filesystem>
#include <functional>

#include "errors.h"
#include "print/outside_tools.h"
#include "scratch_folder.h"

using stripbook::print::write_whole_file;

namespace {

// What an OutsideError says in a child process with a world of its own; "" when none was thrown.
std::string complaint_in_child(const std::function<void()>& arrange, const std::filesystem::path& file,
                               const std::string& bytes) {
    int ends[2];
    REQUIRE(pipe(ends) == 0);
    const pid_t child = fork();
    REQUIRE(child >= 0);
    if (child == 0) {
        std::string said;
        arrange();
        try {
            write_whole_file(file, bytes);
        } catch (const stripbook::OutsideError& error) {
            said = error.what();
        } catch (...) {
            said = "something else was thrown";
        }
        _exit(::write(ends[1], said.data(), said.size()) < 0 ? 1 : 0);
    }
    close(ends[1]);
    std::string said(1000, '\0');
    const ssize_t length = read(ends[0], said.data(), said.size());
    close(ends[0]);
    int status = 0;
    waitpid(child, &status, 0);
    said.resize(length > 0 ? static_cast<std::size_t>(length) : 0);
    return said;
}

std::ptrdiff_t files_in(const std::filesystem::path& folder) {
    return std::distance(std::filesystem::directory_iterator(folder), {});
}

}  // namespace

TEST_CASE("A file is written whole and replaces the one before it", "[print]") {
    const stripbook::test::ScratchFolder folder;
    write_whole_file(folder / "report.pdf", "first");
    write_whole_file(folder / "report.pdf", "second");
    CHECK(stripbook::test::read_file(folder / "report.pdf") == "second");
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("A disk that takes no more leaves no half file, and the old report stays", "[print]") {
    const stripbook::test::ScratchFolder folder;
    write_whole_file(folder / "report.pdf", "the old one");
    const std::string said = complaint_in_child(
        [] {
            // A limit on the size of files stops the write in its middle, as a full disk does.
            std::signal(SIGXFSZ, SIG_IGN);
            const rlimit limit{100000, 100000};
            setrlimit(RLIMIT_FSIZE, &limit);
        },
        folder / "report.pdf", std::string(300000, 'x'));
    CHECK_THAT(said, Catch::Contains("report.pdf cannot be written"));
    CHECK(stripbook::test::read_file(folder / "report.pdf") == "the old one");
    CHECK(files_in(folder.path()) == 1);
}

TEST_CASE("A folder that cannot be written or does not exist is said so", "[print]") {
    const stripbook::test::ScratchFolder folder;
    CHECK_THROWS_WITH(write_whole_file(folder / "none/report.pdf", "x"),
                      Catch::Contains("make the folder first"));
    std::filesystem::permissions(folder.path(), std::filesystem::perms::owner_read |
                                                    std::filesystem::perms::owner_exec |
                                                    std::filesystem::perms::others_exec);
    const std::string said = complaint_in_child(
        [] {
            // Permissions do not bind root.
            if (geteuid() == 0 && setuid(65534) != 0) {
                _exit(2);
            }
        },
        folder / "report.pdf", "x");
    CHECK_THAT(said, Catch::Contains("report.pdf cannot be written") && Catch::Contains("permissions"));
    std::filesystem::permissions(folder.path(), std::filesystem::perms::owner_all);
    CHECK(files_in(folder.path()) == 0);
}
