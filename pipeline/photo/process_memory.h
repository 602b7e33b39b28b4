// How much memory a process of ours holds.
#pragma once

#include <cstddef>

#include <sys/types.h>

namespace stripbook::photo {

struct ProcessMemory {
    std::size_t address_space_bytes = 0;
    std::size_t resident_bytes = 0;
};

/// From /proc/<process>/statm; zeros when the process is gone.
ProcessMemory memory_of(pid_t process);

}  // namespace stripbook::photo
