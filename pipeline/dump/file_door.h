// Every file operation of a dump goes through this door, so that tests can play a full disk, a pulled card, a
// disk that lies, and a killed process. Paths are raw bytes as the system has them; no function here follows
// a link in the last component of a path.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "errors.h"

namespace stripbook::dump {

/// How much is asked of a Source at a time.
inline constexpr std::size_t chunk_bytes = std::size_t{1} << 20U;

/// A file operation failed. The line names the file and the system's reason.
class FileError : public OutsideError {
  public:
    /// `doing` stands before the name, for example "cannot write"; `reason` is an errno.
    FileError(const std::string& doing, const std::filesystem::path& path, int reason);
    [[nodiscard]] int reason() const { return reason_; }
    [[nodiscard]] bool disk_full() const;

  private:
    int reason_;
};

/// A file being read from start to end. Throws FileError.
class Source {
  public:
    virtual ~Source() = default;
    /// Up to `most` bytes, valid until the next call; empty at the end.
    virtual std::string_view read(std::size_t most) = 0;
};

/// A file being written. Throws FileError. Destroyed without sync_and_close it is only closed.
class Sink {
  public:
    virtual ~Sink() = default;
    virtual void write(std::string_view bytes) = 0;
    /// Flushed to the device (fsync), then closed.
    virtual void sync_and_close() = 0;
};

enum class EntryKind { file, folder, link, other };

struct EntryFacts {
    EntryKind kind = EntryKind::other;
    std::uint64_t bytes = 0;
    std::uint64_t device = 0;  ///< two entries on one file system have the same
    std::uint64_t inode = 0;   ///< with the same device: one file under two names
};

class FileDoor {
  public:
    FileDoor() = default;
    FileDoor(const FileDoor&) = delete;
    FileDoor& operator=(const FileDoor&) = delete;
    virtual ~FileDoor() = default;

    /// A regular file; a link, pipe or device in its place is refused, never opened for long. The access time
    /// is left alone where the system allows.
    virtual std::unique_ptr<Source> open_to_read(const std::filesystem::path& path);
    /// Made new; fails when it exists.
    virtual std::unique_ptr<Sink> create(const std::filesystem::path& path);
    /// For reading back what was written: past the page cache where the system allows (O_DIRECT, else
    /// POSIX_FADV_DONTNEED).
    virtual std::unique_ptr<Source> open_past_cache(const std::filesystem::path& path);
    /// Renames within one file system and syncs both folders. Never replaces an existing file.
    virtual void rename(const std::filesystem::path& from, const std::filesystem::path& to);
    /// With every missing folder above it; what is made is synced.
    virtual void make_folders(const std::filesystem::path& folder);
    virtual void remove(const std::filesystem::path& path);
    /// Nothing when there is no such entry.
    virtual std::optional<EntryFacts> look(const std::filesystem::path& path);
    /// Names in a folder without "." and "..", in byte order; empty when there is no such folder.
    virtual std::vector<std::string> names_in(const std::filesystem::path& folder);
    /// Bytes that this user can still write there.
    virtual std::uint64_t free_bytes(const std::filesystem::path& folder);
};

}  // namespace stripbook::dump
