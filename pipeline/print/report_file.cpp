#include "print/report_file.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <memory>
#include <system_error>
#include <utility>

#include "errors.h"

namespace stripbook::print {

namespace {

// A file under its temporary name; removed unless it got its own.
class TemporaryFile {
  public:
    explicit TemporaryFile(std::filesystem::path path)
        : path_(std::move(path)),
          descriptor_(::open(path_.c_str(), O_WRONLY | O_CREAT | O_EXCL | O_CLOEXEC, 0666)) {}
    TemporaryFile(const TemporaryFile&) = delete;
    TemporaryFile& operator=(const TemporaryFile&) = delete;
    ~TemporaryFile() {
        if (descriptor_ >= 0) {
            ::close(descriptor_);
            ::unlink(path_.c_str());
        }
    }
    [[nodiscard]] bool is_open() const { return descriptor_ >= 0; }

    // Each says whether it went well; errno tells why not.
    bool write(std::string_view bytes) const {
        while (!bytes.empty()) {
            const ssize_t written = ::write(descriptor_, bytes.data(), bytes.size());
            if (written < 0 && errno == EINTR) {
                continue;
            }
            if (written < 0) {
                return false;
            }
            bytes.remove_prefix(static_cast<std::size_t>(written));
        }
        return sync();
    }
    bool write(const std::function<void(std::FILE*)>& writer) const {
        const std::unique_ptr<std::FILE, int (*)(std::FILE*)> stream(::fdopen(::dup(descriptor_), "wb"),
                                                                     std::fclose);
        if (!stream) {
            return false;
        }
        // Reports of a whole job have hundreds of megabytes.
        constexpr std::size_t buffer_bytes = 1U << 20U;
        std::setvbuf(stream.get(), nullptr, _IOFBF, buffer_bytes);
        try {
            writer(stream.get());
        } catch (const std::exception&) {
            if (std::ferror(stream.get()) == 0) {
                throw;
            }
            return false;
        }
        return std::fflush(stream.get()) == 0 && sync();
    }
    bool rename_to(const std::filesystem::path& name) {
        if (std::rename(path_.c_str(), name.c_str()) != 0) {
            return false;
        }
        ::close(std::exchange(descriptor_, -1));
        return true;
    }

  private:
    [[nodiscard]] bool sync() const { return ::fsync(descriptor_) == 0; }

    std::filesystem::path path_;
    int descriptor_;
};

std::string what_to_do(int error) {
    switch (error) {
        case ENOSPC:
        case EDQUOT:
            return "make room on the disk and run the command again";
        case EACCES:
        case EPERM:
        case EROFS:
            return "give another folder, or change the folder's permissions";
        case ENOENT:
        case ENOTDIR:
            return "make the folder first, or give another";
        default:
            return "give another place and run the command again";
    }
}

[[noreturn]] void refuse(const std::filesystem::path& file, int error) {
    throw OutsideError(fmt::format("{} cannot be written: {}; {}", file.string(),
                                   std::generic_category().message(error), what_to_do(error)));
}

void sync_folder(const std::filesystem::path& folder) {
    const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (descriptor >= 0) {
        ::fsync(descriptor);
        ::close(descriptor);
    }
}

}  // namespace

std::filesystem::path folder_of(const std::filesystem::path& file) {
    return file.has_parent_path() ? file.parent_path() : std::filesystem::path(".");
}

namespace {

template <typename What>
void write_and_rename(const std::filesystem::path& file, const What& what) {
    const std::filesystem::path folder = folder_of(file);
    TemporaryFile temporary(folder / fmt::format(".stripbook-{}.part", ::getpid()));
    if (!temporary.is_open() || !temporary.write(what) || !temporary.rename_to(file)) {
        refuse(file, errno);
    }
    sync_folder(folder);
}

}  // namespace

void write_whole_file(const std::filesystem::path& file, std::string_view bytes) {
    write_and_rename(file, bytes);
}

void write_whole_file(const std::filesystem::path& file, const std::function<void(std::FILE*)>& write) {
    write_and_rename(file, write);
}

}  // namespace stripbook::print
