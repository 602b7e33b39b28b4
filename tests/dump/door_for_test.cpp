#include "dump/door_for_test.h"

#include <utility>

namespace stripbook::test {

namespace {

class SourceForTest : public dump::Source {
  public:
    SourceForTest(DoorForTest& door, std::filesystem::path path, std::unique_ptr<dump::Source> inner,
                  bool lies)
        : door_(door), path_(std::move(path)), inner_(std::move(inner)), lies_(lies) {}

    std::string_view read(std::size_t most) override {
        door_.before("read", path_);
        const std::string_view bytes = inner_->read(most);
        if (!lies_ || bytes.empty()) {
            return bytes;
        }
        changed_ = bytes;
        changed_[changed_.size() / 2] = static_cast<char>(changed_[changed_.size() / 2] ^ 0x10);
        lies_ = false;
        return changed_;
    }

  private:
    DoorForTest& door_;
    std::filesystem::path path_;
    std::unique_ptr<dump::Source> inner_;
    bool lies_;
    std::string changed_;
};

class SinkForTest : public dump::Sink {
  public:
    SinkForTest(DoorForTest& door, std::filesystem::path path, std::unique_ptr<dump::Sink> inner)
        : door_(door), path_(std::move(path)), inner_(std::move(inner)) {}

    void write(std::string_view bytes) override {
        door_.before("write", path_);
        inner_->write(bytes);
    }

    void sync_and_close() override {
        door_.before("sync", path_);
        inner_->sync_and_close();
    }

  private:
    DoorForTest& door_;
    std::filesystem::path path_;
    std::unique_ptr<dump::Sink> inner_;
};

}  // namespace

std::unique_ptr<dump::Source> DoorForTest::open_to_read(const std::filesystem::path& path) {
    before("open to read", path);
    return std::make_unique<SourceForTest>(*this, path, FileDoor::open_to_read(path), false);
}

std::unique_ptr<dump::Sink> DoorForTest::create(const std::filesystem::path& path) {
    before("create", path);
    return std::make_unique<SinkForTest>(*this, path, FileDoor::create(path));
}

std::unique_ptr<dump::Source> DoorForTest::open_past_cache(const std::filesystem::path& path) {
    before("open past cache", path);
    return std::make_unique<SourceForTest>(*this, path, FileDoor::open_past_cache(path), lies(path));
}

void DoorForTest::rename(const std::filesystem::path& from, const std::filesystem::path& to) {
    before("rename", from);
    FileDoor::rename(from, to);
    before("renamed", to);
}

void DoorForTest::make_folders(const std::filesystem::path& folder) {
    before("make folders", folder);
    FileDoor::make_folders(folder);
}

void DoorForTest::remove(const std::filesystem::path& path) {
    before("remove", path);
    FileDoor::remove(path);
}

std::optional<dump::EntryFacts> DoorForTest::look(const std::filesystem::path& path) {
    before("look", path);
    return FileDoor::look(path);
}

std::vector<std::string> DoorForTest::names_in(const std::filesystem::path& folder) {
    before("names", folder);
    return FileDoor::names_in(folder);
}

std::uint64_t DoorForTest::free_bytes(const std::filesystem::path& folder) {
    before("free bytes", folder);
    return free_bytes_said ? *free_bytes_said : FileDoor::free_bytes(folder);
}

}  // namespace stripbook::test
