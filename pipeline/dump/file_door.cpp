#include "dump/file_door.h"

#include <dirent.h>
#include <fcntl.h>
#include <linux/fs.h>
#include <sys/stat.h>
#include <sys/statvfs.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <system_error>

#include "book/paths.h"
#include "dump/open_file.h"

namespace stripbook::dump {

namespace {

class SystemSink : public Sink {
  public:
    SystemSink(OpenFile file, std::filesystem::path path) : file_(std::move(file)), path_(std::move(path)) {}

    void write(std::string_view bytes) override {
        while (!bytes.empty()) {
            const ssize_t written = ::write(file_.get(), bytes.data(), bytes.size());
            if (written >= 0) {
                bytes.remove_prefix(static_cast<std::size_t>(written));
            } else if (errno != EINTR) {
                throw FileError("cannot write", path_, errno);
            }
        }
    }

    void sync_and_close() override {
        if (fsync(file_.get()) != 0) {
            throw FileError("cannot write", path_, errno);
        }
        // After EINTR the descriptor is closed on Linux, and the bytes were synced before.
        if (::close(file_.release()) != 0 && errno != EINTR) {
            throw FileError("cannot write", path_, errno);
        }
    }

  private:
    OpenFile file_;
    std::filesystem::path path_;
};

void refuse_all_but_regular(const OpenFile& file, const std::filesystem::path& path) {
    struct stat facts {};
    if (fstat(file.get(), &facts) != 0) {
        throw FileError("cannot read", path, errno);
    }
    if (!S_ISREG(facts.st_mode)) {
        throw FileError("cannot read", path, S_ISDIR(facts.st_mode) ? EISDIR : EINVAL);
    }
}

// A file system that cannot sync folders says EINVAL; there is nothing more to be had from it.
void sync_folder(const std::filesystem::path& folder) {
    const OpenFile open(::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (open.get() < 0 || (fsync(open.get()) != 0 && errno != EINVAL)) {
        throw FileError("cannot write", folder, errno);
    }
}

void rename_without_replacing(const std::filesystem::path& from, const std::filesystem::path& to) {
    if (renameat2(AT_FDCWD, from.c_str(), AT_FDCWD, to.c_str(), RENAME_NOREPLACE) == 0) {
        return;
    }
    // Not every file system has the flag; the book's lock keeps other dumps away between the look and the
    // rename.
    if (errno == EINVAL || errno == ENOSYS) {
        struct stat ignored {};
        if (lstat(to.c_str(), &ignored) == 0) {
            throw FileError("cannot rename to", to, EEXIST);
        }
        if (::rename(from.c_str(), to.c_str()) == 0) {
            return;
        }
    }
    throw FileError("cannot rename to", to, errno);
}

EntryKind kind_of(mode_t mode) {
    if (S_ISREG(mode)) {
        return EntryKind::file;
    }
    if (S_ISDIR(mode)) {
        return EntryKind::folder;
    }
    return S_ISLNK(mode) ? EntryKind::link : EntryKind::other;
}

}  // namespace

FileError::FileError(const std::string& doing, const std::filesystem::path& path, int reason)
    : OutsideError(doing + " \"" + book::printable_name(path.string()) +
                   "\": " + std::generic_category().message(reason)),
      reason_(reason) {}

bool FileError::disk_full() const {
    return reason_ == ENOSPC || reason_ == EDQUOT;
}

std::unique_ptr<Source> FileDoor::open_to_read(const std::filesystem::path& path) {
    // O_NONBLOCK: should a pipe have taken the file's place, opening it must not wait for a writer.
    OpenFile file(open_quietly(AT_FDCWD, path.c_str(), O_RDONLY | O_NOFOLLOW | O_NONBLOCK));
    if (file.get() < 0) {
        throw FileError("cannot read", path, errno);
    }
    refuse_all_but_regular(file, path);
    posix_fadvise(file.get(), 0, 0, POSIX_FADV_SEQUENTIAL);
    return source_of(std::move(file), path, false);
}

std::unique_ptr<Sink> FileDoor::create(const std::filesystem::path& path) {
    OpenFile file(::open(path.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0644));
    if (file.get() < 0) {
        throw FileError("cannot write", path, errno);
    }
    return std::make_unique<SystemSink>(std::move(file), path);
}

std::unique_ptr<Source> FileDoor::open_past_cache(const std::filesystem::path& path) {
    const int flags = O_RDONLY | O_NOFOLLOW | O_NONBLOCK;
    bool direct = true;
    int descriptor = open_quietly(AT_FDCWD, path.c_str(), flags | O_DIRECT);
    if (descriptor < 0 && errno == EINVAL) {
        direct = false;
        descriptor = open_quietly(AT_FDCWD, path.c_str(), flags);
    }
    OpenFile file(descriptor);
    if (file.get() < 0) {
        throw FileError("cannot read", path, errno);
    }
    refuse_all_but_regular(file, path);
    // Also with O_DIRECT: should the file system refuse that later, the synced pages are gone from the cache.
    posix_fadvise(file.get(), 0, 0, POSIX_FADV_DONTNEED);
    return source_of(std::move(file), path, direct);
}

void FileDoor::rename(const std::filesystem::path& from, const std::filesystem::path& to) {
    rename_without_replacing(from, to);
    sync_folder(to.parent_path());
    if (from.parent_path() != to.parent_path()) {
        sync_folder(from.parent_path());
    }
}

void FileDoor::make_folders(const std::filesystem::path& folder) {
    struct stat facts {};
    if (stat(folder.c_str(), &facts) == 0) {
        if (!S_ISDIR(facts.st_mode)) {
            throw FileError("cannot make the folder", folder, ENOTDIR);
        }
        return;
    }
    if (folder.has_parent_path() && folder.parent_path() != folder) {
        make_folders(folder.parent_path());
    }
    if (mkdir(folder.c_str(), 0777) != 0 && errno != EEXIST) {
        throw FileError("cannot make the folder", folder, errno);
    }
    sync_folder(folder.has_parent_path() ? folder.parent_path() : std::filesystem::path("."));
}

void FileDoor::remove(const std::filesystem::path& path) {
    if (unlink(path.c_str()) != 0) {
        throw FileError("cannot remove", path, errno);
    }
}

std::optional<EntryFacts> FileDoor::look(const std::filesystem::path& path) {
    struct stat facts {};
    if (lstat(path.c_str(), &facts) != 0) {
        if (errno == ENOENT || errno == ENOTDIR) {
            return std::nullopt;
        }
        throw FileError("cannot look at", path, errno);
    }
    return EntryFacts{kind_of(facts.st_mode), static_cast<std::uint64_t>(facts.st_size), facts.st_dev,
                      facts.st_ino};
}

std::vector<std::string> FileDoor::names_in(const std::filesystem::path& folder) {
    const std::unique_ptr<DIR, int (*)(DIR*)> open(opendir(folder.c_str()), closedir);
    if (!open) {
        if (errno == ENOENT) {
            return {};
        }
        throw FileError("cannot read the folder", folder, errno);
    }
    std::vector<std::string> names;
    for (;;) {
        errno = 0;
        const dirent* entry = readdir(open.get());
        if (entry == nullptr) {
            break;
        }
        const std::string name = entry->d_name;
        if (name != "." && name != "..") {
            names.push_back(name);
        }
    }
    if (errno != 0) {
        throw FileError("cannot read the folder", folder, errno);
    }
    std::sort(names.begin(), names.end());
    return names;
}

std::uint64_t FileDoor::free_bytes(const std::filesystem::path& folder) {
    struct statvfs facts {};
    if (statvfs(folder.c_str(), &facts) != 0) {
        throw FileError("cannot look at", folder, errno);
    }
    return static_cast<std::uint64_t>(facts.f_bavail) * facts.f_frsize;
}

}  // namespace stripbook::dump
