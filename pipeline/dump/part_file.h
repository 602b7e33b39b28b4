// A copy on its way: a temporary file that is written, synced, read back and compared before it gets a name.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "dump/file_door.h"

namespace stripbook::dump {

/// Removes its file when it goes, unless it was moved to its place.
class PartFile {
  public:
    /// Makes the file. Like write(), it does not throw when the disk fails: the rest of the card file is
    /// still to be read, because its bytes may be known already or go to another disk. See failure().
    PartFile(FileDoor& door, std::filesystem::path path);
    PartFile(const PartFile&) = delete;
    PartFile& operator=(const PartFile&) = delete;
    ~PartFile();

    void write(std::string_view bytes);
    /// Syncs, reads back past the cache and compares. False when the disk failed or the bytes are others.
    /// `between` is called between chunks and may throw.
    bool prove(const std::string& sha256, const std::function<void()>& between);
    [[nodiscard]] bool proved() const { return proved_; }
    /// Why writing failed; empty while it works, and when the bytes read back are merely others.
    [[nodiscard]] const std::optional<FileError>& failure() const { return failure_; }
    /// Throws FileError when the place is taken or the disk fails. Only for a proved file.
    void move_to(const std::filesystem::path& place);

  private:
    FileDoor& door_;
    std::filesystem::path path_;
    std::unique_ptr<Sink> sink_;
    std::optional<FileError> failure_;
    bool exists_ = false;
    bool proved_ = false;
};

/// SHA-256 of all that `source` still gives.
std::string hash_of(Source& source, const std::function<void(std::string_view)>& after_chunk);

}  // namespace stripbook::dump
