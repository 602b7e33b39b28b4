// A door that lets a test act before every file operation: fail it, kill the process, pull the card.
#pragma once

#include <filesystem>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "dump/file_door.h"

namespace stripbook::test {

class DoorForTest : public dump::FileDoor {
  public:
    /// Called before each operation with its name and file; may throw FileError.
    std::function<void(const std::string& operation, const std::filesystem::path& path)> before =
        [](const std::string&, const std::filesystem::path&) {};
    /// Whether reading this file back gives one bit wrong.
    std::function<bool(const std::filesystem::path& path)> lies = [](const std::filesystem::path&) {
        return false;
    };
    std::optional<std::uint64_t> free_bytes_said;

    std::unique_ptr<dump::Source> open_to_read(const std::filesystem::path& path) override;
    std::unique_ptr<dump::Sink> create(const std::filesystem::path& path) override;
    std::unique_ptr<dump::Source> open_past_cache(const std::filesystem::path& path) override;
    void rename(const std::filesystem::path& from, const std::filesystem::path& to) override;
    void make_folders(const std::filesystem::path& folder) override;
    void remove(const std::filesystem::path& path) override;
    std::optional<dump::EntryFacts> look(const std::filesystem::path& path) override;
    std::vector<std::string> names_in(const std::filesystem::path& folder) override;
    std::uint64_t free_bytes(const std::filesystem::path& folder) override;
};

}  // namespace stripbook::test
