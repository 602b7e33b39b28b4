#include "dump/open_file.h"

#include <fcntl.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdlib>
#include <new>

namespace stripbook::dump {

namespace {

// O_DIRECT asks for buffers, lengths and places in the file that are whole blocks; 4096 serves every disk in
// use.
constexpr std::size_t block_bytes = 4096;

struct FreeBuffer {
    void operator()(char* buffer) const { std::free(buffer); }
};

class SystemSource : public Source {
  public:
    SystemSource(OpenFile file, std::filesystem::path path, bool direct)
        : file_(std::move(file)),
          path_(std::move(path)),
          direct_(direct),
          buffer_(static_cast<char*>(std::aligned_alloc(block_bytes, chunk_bytes))) {
        if (!buffer_) {
            throw std::bad_alloc();
        }
    }

    std::string_view read(std::size_t most) override {
        const std::size_t asked = std::min(most, chunk_bytes);
        for (;;) {
            const ssize_t got = ::read(file_.get(), buffer_.get(), asked);
            if (got >= 0) {
                return {buffer_.get(), static_cast<std::size_t>(got)};
            }
            if (errno == EINVAL && direct_) {
                go_through_cache();
            } else if (errno != EINTR) {
                throw FileError("cannot read", path_, errno);
            }
        }
    }

  private:
    // Some file systems accept O_DIRECT when opening and refuse it when reading, or at the odd end of a file.
    void go_through_cache() {
        direct_ = false;
        const int flags = fcntl(file_.get(), F_GETFL);
        if (flags < 0 || fcntl(file_.get(), F_SETFL, flags & ~O_DIRECT) != 0) {
            throw FileError("cannot read", path_, errno);
        }
    }

    OpenFile file_;
    std::filesystem::path path_;
    bool direct_;
    std::unique_ptr<char, FreeBuffer> buffer_;
};

}  // namespace

OpenFile::~OpenFile() {
    if (descriptor_ >= 0) {
        ::close(descriptor_);
    }
}

int OpenFile::release() {
    const int descriptor = descriptor_;
    descriptor_ = -1;
    return descriptor;
}

int open_quietly(int in_folder, const char* name, int flags) {
    int quiet = O_NOATIME;
    for (;;) {
        const int descriptor = ::openat(in_folder, name, flags | quiet | O_CLOEXEC);
        if (descriptor >= 0) {
            return descriptor;
        }
        if (errno == EPERM && quiet != 0) {
            quiet = 0;
        } else if (errno != EINTR) {
            return -1;
        }
    }
}

std::unique_ptr<Source> source_of(OpenFile file, const std::filesystem::path& path, bool direct) {
    return std::make_unique<SystemSource>(std::move(file), path, direct);
}

}  // namespace stripbook::dump
