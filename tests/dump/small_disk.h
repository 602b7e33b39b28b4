// A memory disk of a given size, for filling up and for pulling out.
#pragma once

#include <sys/mount.h>

#include <filesystem>
#include <string>

namespace stripbook::test {

/// Gone again at the end. Only some users may mount: see mounted().
class SmallDisk {
  public:
    SmallDisk(const std::filesystem::path& place, const std::string& size) : place_(place) {
        std::filesystem::create_directory(place);
        mounted_ = mount("small", place.c_str(), "tmpfs", 0, ("size=" + size).c_str()) == 0;
    }
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;
    ~SmallDisk() { unmount(); }
    [[nodiscard]] bool mounted() const { return mounted_; }
    void unmount() {
        if (mounted_) {
            umount2(place_.c_str(), MNT_DETACH);
            mounted_ = false;
        }
    }

  private:
    std::filesystem::path place_;
    bool mounted_ = false;
};

}  // namespace stripbook::test
