#include "book/lock.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <linux/magic.h>
#include <sys/file.h>
#include <sys/vfs.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <cstring>
#include <thread>

#include "book/clock.h"
#include "book/paths.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr std::array<unsigned long, 10> untrusted{
    NFS_SUPER_MAGIC, SMB_SUPER_MAGIC, CIFS_SUPER_MAGIC, SMB2_SUPER_MAGIC, FUSE_SUPER_MAGIC,
    V9FS_MAGIC,      AFS_SUPER_MAGIC, AFS_FS_MAGIC,     CODA_SUPER_MAGIC, NCP_SUPER_MAGIC};

// No message is longer than a line, whatever a broken lock file holds.
constexpr std::size_t longest_line_bytes = 200;

[[noreturn]] void refuse_writing(const std::filesystem::path& folder, int error) {
    const std::string name = printable_name(folder.string());
    if (error == EROFS) {
        throw BookError(
            fmt::format("{} lies on a read-only disk: it can be read there; to change it, copy the folder "
                        "to a disk that can be written",
                        name));
    }
    if (error == EACCES || error == EPERM) {
        throw BookError(fmt::format("you may not write in {}: ask its owner, or work on a copy", name));
    }
    if (error == ENOSPC) {
        throw OutsideError(
            fmt::format("{}: the disk is full; make room and run the same command again", name));
    }
    throw BookError(fmt::format("{} cannot be written ({})", name, std::strerror(error)));
}

std::string holder_line(int file) {
    std::array<char, longest_line_bytes> line{};
    const ssize_t got = pread(file, line.data(), line.size(), 0);
    std::string text(line.data(), static_cast<std::size_t>(std::max<ssize_t>(got, 0)));
    text = printable_name(text.substr(0, text.find('\n')));
    // Of today, the hour is enough.
    const std::string today = now_local_minute().substr(0, std::strlen("2026-03-20 "));
    const auto date = text.find(today);
    return date == std::string::npos ? text : text.erase(date, today.size());
}

void write_holder_line(int file, const std::string& doing) {
    const std::string line =
        fmt::format("{}, since {}, process {}\n", printable_name(doing), now_local_minute(), getpid());
    // The line only serves a message; a full disk shows itself at the first real write.
    if (ftruncate(file, 0) == 0) {
        [[maybe_unused]] const ssize_t written = pwrite(file, line.data(), line.size(), 0);
    }
}

bool take(int file) {
    while (flock(file, LOCK_EX | LOCK_NB) != 0) {
        if (errno == EINTR) {
            continue;
        }
        if (errno == EWOULDBLOCK) {
            return false;
        }
        throw BookError(fmt::format("the book cannot be locked here ({}): copy the book to a local disk",
                                    std::strerror(errno)));
    }
    return true;
}

bool take_within(int file, double wait_s) {
    using Clock = std::chrono::steady_clock;
    const auto until = Clock::now() + std::chrono::duration<double>(wait_s);
    while (!take(file)) {
        if (Clock::now() >= until) {
            return false;
        }
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
    }
    return true;
}

}  // namespace

bool locking_can_be_trusted(long file_system_type) {
    // f_type is signed and sign-extended on some machines; the magic numbers are 32 bits.
    const unsigned long type = static_cast<unsigned long>(file_system_type) & 0xFFFFFFFFUL;
    return std::find(untrusted.begin(), untrusted.end(), type) == untrusted.end();
}

void check_locking(const std::filesystem::path& folder) {
    struct statfs about {};
    if (statfs(folder.c_str(), &about) != 0) {
        refuse_writing(folder, errno);
    }
    if (!locking_can_be_trusted(static_cast<long>(about.f_type))) {
        throw BookError(
            fmt::format("{} lies on a network or FUSE drive, where two computers could write into the book "
                        "at once: copy the book to a local disk and work there",
                        printable_name(folder.string())));
    }
}

// flock() and not fcntl(): an fcntl lock is lost as soon as any file handle on book.lock is closed in this
// process.
Lock::Lock(const std::filesystem::path& folder, const std::string& doing, double wait_s) : owner_(getpid()) {
    const std::string name = (folder / lock_name).string();
    file_ = open(name.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK, 0666);
    if (file_ < 0) {
        refuse_writing(folder, errno);
    }
    try {
        if (!take_within(file_, wait_s)) {
            throw BookError(fmt::format("the book is in use: {}; wait until it is done", holder_line(file_)));
        }
    } catch (...) {
        close(file_);
        throw;
    }
    write_holder_line(file_, doing);
}

Lock::~Lock() {
    // A forked worker shares the lock; only the one that took it lets it go, and then for all of them.
    if (getpid() == owner_) {
        [[maybe_unused]] const int emptied = ftruncate(file_, 0);
        flock(file_, LOCK_UN);
    }
    close(file_);
}

}  // namespace stripbook::book
