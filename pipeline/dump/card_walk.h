// What is on a card, without touching it.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "book/records.h"

namespace stripbook::dump {

struct CardEntry {
    std::string name;  ///< raw bytes, relative to the card's folder, "/" between folders
    std::uint64_t bytes = 0;
    double modified_seconds = 0;  ///< since 1970 UTC
    book::FileKind kind = book::FileKind::other;  ///< by extension only; contents decide later
    int dcf_directory = 0;  ///< CIPA DC-009: 100..999 when the folder is DCIM/NNNXXXXX, else 0
    int dcf_counter = 0;    ///< 1..9999 when the name is XXXXNNNN.EXT, else 0
};

struct CardWalk {
    std::vector<CardEntry> files;      ///< in byte order of their names
    bool has_dcim = false;
    /// What was left out and why, one line each in printable form: links (never followed), devices and pipes, folders
    /// and files that may not be read.
    std::vector<std::string> left_out;
    bool something_unreadable = false;  ///< then the card may not be called wipeable
};

/// Throws WrongUse when `card` does not exist, is no folder, or lies inside the book folder (or holds it); OutsideError
/// when it may not be read at all.
CardWalk walk_card(const std::filesystem::path& card, const std::filesystem::path& book_folder);

/// The DCF numbers of a name relative to the card (0, 0 where it is no DCF name).
void dcf_numbers(const std::string& name, int& directory, int& counter);

}  // namespace stripbook::dump
