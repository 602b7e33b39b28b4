#include "write_file.h"

#include <fmt/format.h>

#include <cerrno>
#include <cstring>
#include <fstream>

#include "errors.h"

namespace stripbook::cli {

void write_file(const std::filesystem::path& path, const std::string& bytes) {
    const std::filesystem::path temporary = path.string() + ".part";
    std::ofstream out(temporary, std::ios::binary | std::ios::trunc);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    std::error_code failure;
    if (out.good()) {
        std::filesystem::rename(temporary, path, failure);
        if (!failure) {
            return;
        }
    }
    const std::string reason = failure ? failure.message() : std::strerror(errno);
    std::filesystem::remove(temporary, failure);
    throw OutsideError(
        fmt::format("{} cannot be written ({}); choose another place with --out", path.string(), reason));
}

}  // namespace stripbook::cli
