// Reads the files of one card, each once, into as many copies as are wanted.
#pragma once

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "dump/card_walk.h"
#include "dump/file_door.h"
#include "dump/meter.h"
#include "dump/part_file.h"

namespace stripbook::dump {

/// One file of the card as it was read.
struct CardRead {
    std::string sha256;
    std::uint64_t bytes = 0;
    std::string first_bytes;  ///< for file_kind.h
};

class CardReader {
  public:
    CardReader(std::filesystem::path card, FileDoor& door, Meter& meter);

    /// Throws NotProved when the card does not give this file, OutsideError when the card has gone away,
    /// Stopped when asked to. A copy that cannot be written keeps that to itself (part_file.h).
    CardRead read(const CardEntry& entry, const std::vector<PartFile*>& copies);

  private:
    [[noreturn]] void explain(const CardEntry& entry, const FileError& error);
    bool card_is_there();
    std::optional<std::uint64_t> device();

    std::filesystem::path card_;
    FileDoor& door_;
    Meter& meter_;
    std::optional<std::uint64_t> device_at_start_;
};

}  // namespace stripbook::dump
