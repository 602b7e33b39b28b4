// What is on a card, without touching it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "book/records.h"
#include "dump/dcf_name.h"

namespace stripbook::dump {

struct CardEntry {
    std::string name;  ///< raw bytes, relative to the card's folder, "/" between folders
    std::uint64_t bytes = 0;
    double modified_seconds = 0;                  ///< since 1970 UTC
    book::FileKind kind = book::FileKind::other;  ///< by extension only; contents decide later
    int dcf_directory = 0;                        ///< dcf_name.h
    int dcf_counter = 0;
};

struct CardWalk {
    std::vector<CardEntry> files;  ///< in byte order of their names
    bool has_dcim = false;
    /// What was left out and why, one line each in printable form: links (never followed), devices and pipes,
    /// folders and files that may not be read.
    std::vector<std::string> left_out;
    bool something_unreadable = false;  ///< then the card may not be called wipeable
};

struct WalkLimits {
    int folders_deep = 64;  ///< cameras write two; deeper is a mistake or a trap, and is left out by name
    std::size_t files = 1'000'000;  ///< more is no card
};

/// Throws WrongUse when `card` does not exist, is no folder, lies inside the book folder (or holds it), or
/// has more files than the limit; OutsideError when it may not be read at all.
CardWalk walk_card(const std::filesystem::path& card, const std::filesystem::path& book_folder,
                   const WalkLimits& limits = {});

/// Whether `inner` is `outer` or lies inside it, whatever links and dots their names hold.
bool is_inside(const std::filesystem::path& inner, const std::filesystem::path& outer);

}  // namespace stripbook::dump
