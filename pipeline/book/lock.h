// One writer at a time: the kernel's lock on book.lock, with a line inside that says who holds it.
#pragma once

#include <sys/types.h>

#include <filesystem>
#include <string>

namespace stripbook::book {

/// Whether the kernel's file locks can be trusted on a file system, by the `f_type` that statfs(2) gives. Not
/// on network file systems and FUSE (numbers from linux/magic.h): there a lock may hold on one computer only,
/// or not at all.
bool locking_can_be_trusted(long file_system_type);

/// Throws BookError when the file system of `folder` has no locks to trust.
void check_locking(const std::filesystem::path& folder);

class Lock {
  public:
    /// Takes the lock in `folder`, waiting up to `wait_s` seconds. Throws BookError naming the holder.
    /// A line that a dead process left inside does not matter: the kernel let its lock go.
    Lock(const std::filesystem::path& folder, const std::string& doing, double wait_s);
    Lock(const Lock&) = delete;
    Lock& operator=(const Lock&) = delete;
    ~Lock();

  private:
    int file_ = -1;
    pid_t owner_ = 0;
};

}  // namespace stripbook::book
