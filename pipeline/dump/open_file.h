// An open file of the system that closes itself, and the two ways a dump reads one. For file_door.cpp and
// card_walk.cpp.
#pragma once

#include <cstddef>
#include <filesystem>
#include <memory>

#include "dump/file_door.h"

namespace stripbook::dump {

class OpenFile {
  public:
    explicit OpenFile(int descriptor) : descriptor_(descriptor) {}
    OpenFile(OpenFile&& other) noexcept : descriptor_(other.release()) {}
    OpenFile(const OpenFile&) = delete;
    OpenFile& operator=(const OpenFile&) = delete;
    OpenFile& operator=(OpenFile&&) = delete;
    ~OpenFile();

    [[nodiscard]] int get() const { return descriptor_; }
    int release();

  private:
    int descriptor_;
};

/// open() that leaves the access time alone where the system allows (O_NOATIME is only for a file's owner)
/// and tries again when a signal came in between. `in_folder` is a descriptor or AT_FDCWD. Returns -1 with
/// errno set on failure.
int open_quietly(int in_folder, const char* name, int flags);

/// Reads an open regular file; `direct` says that it was opened with O_DIRECT.
std::unique_ptr<Source> source_of(OpenFile file, const std::filesystem::path& path, bool direct);

}  // namespace stripbook::dump
