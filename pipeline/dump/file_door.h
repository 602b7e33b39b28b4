// Every file operation of a dump goes through this door, so that tests can play a full disk, a pulled card, a disk that
// lies, and a killed process. Paths are raw bytes as the system has them.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <string>
#include <string_view>
#include <vector>

namespace stripbook::dump {

/// A file being read from start to end. Throws OutsideError naming the file and the system's reason.
class Source {
  public:
    virtual ~Source() = default;
    /// Up to `most` bytes; empty at the end.
    virtual std::string_view read(std::size_t most) = 0;
};

/// A file being written. Throws OutsideError naming the file and the system's reason ("No space left on device").
class Sink {
  public:
    virtual ~Sink() = default;
    virtual void write(std::string_view bytes) = 0;
    /// Flushed to the device (fsync), then closed.
    virtual void sync_and_close() = 0;
};

class FileDoor {
  public:
    virtual ~FileDoor() = default;
    virtual std::unique_ptr<Source> open_card_file(const std::filesystem::path& path);
    /// Made new; fails when it exists.
    virtual std::unique_ptr<Sink> create(const std::filesystem::path& path);
    /// For reading back what was written: past the page cache where the system allows (O_DIRECT, else
    /// POSIX_FADV_DONTNEED).
    virtual std::unique_ptr<Source> open_past_cache(const std::filesystem::path& path);
    /// Renames within one file system and syncs the folder. Never replaces an existing file.
    virtual void rename(const std::filesystem::path& from, const std::filesystem::path& to);
    virtual void make_folders(const std::filesystem::path& folder);
    virtual void remove(const std::filesystem::path& path);
    virtual std::uint64_t free_bytes(const std::filesystem::path& folder);
};

}  // namespace stripbook::dump
