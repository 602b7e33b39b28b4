#include "book/durable_files.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "book/paths.h"
#include "errors.h"

namespace stripbook::book {

void sync_to_disk(const std::filesystem::path& file_or_folder) {
    const int file = open(file_or_folder.c_str(), O_RDONLY | O_CLOEXEC);
    const bool synced = file >= 0 && fsync(file) == 0;
    const int error = errno;
    if (file >= 0) {
        close(file);
    }
    if (!synced) {
        throw OutsideError(
            fmt::format("{} could not be written to the disk ({}); check the disk and try again",
                        printable_name(file_or_folder.string()), std::strerror(error)));
    }
}

void rename_durably(const std::filesystem::path& from, const std::filesystem::path& to) {
    std::error_code error;
    std::filesystem::rename(from, to, error);
    if (error) {
        throw OutsideError(fmt::format("{} could not be given its name ({}); check the disk and try again",
                                       printable_name(to.string()), error.message()));
    }
    sync_to_disk(to.parent_path());
}

}  // namespace stripbook::book
