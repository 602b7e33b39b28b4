#include "photo/process_memory.h"

#include <fmt/format.h>
#include <unistd.h>

#include <array>
#include <cstdio>
#include <memory>

namespace stripbook::photo {

ProcessMemory memory_of(pid_t process) {
    const std::string path = fmt::format("/proc/{}/statm", process);
    const std::unique_ptr<FILE, int (*)(FILE*)> file(std::fopen(path.c_str(), "re"), std::fclose);
    std::array<char, 256> line{};
    if (!file || std::fgets(line.data(), static_cast<int>(line.size()), file.get()) == nullptr) {
        return {};
    }
    char* rest = nullptr;
    const std::size_t pages = std::strtoull(line.data(), &rest, 10);
    const std::size_t resident_pages = std::strtoull(rest, &rest, 10);
    const auto page_bytes = static_cast<std::size_t>(sysconf(_SC_PAGESIZE));
    return {pages * page_bytes, resident_pages * page_bytes};
}

}  // namespace stripbook::photo
