// The refit sheet: what goes back in, in order, with the pictures, for a mechanic with greasy hands.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "book/book.h"
#include "number/tag_number.h"

namespace stripbook::print {

/// A part that is to stand on the sheet, as the order of refitting has it.
struct RefitEntry {
    number::TagNumber tag;
    std::size_t step = 0;  ///< 0: none, because of a circle; entries of one step follow each other
    std::vector<number::TagNumber> together_with;
    std::vector<std::string> held_up_by;  ///< in words; empty: it can go in
    bool in_place = false;
};

struct RefitSheetOptions {
    std::string what;  ///< in the head of every page: "what can go in now"
    std::string date;  ///< "2026-11-25": printed, and the PDF's own dates; same book and date, same bytes
    std::string version;
    bool letter = false;  ///< US Letter, else A4
    std::function<bool()> stop;
};

struct RefitSheetResult {
    std::filesystem::path file;
    int pages = 0;
    int photos = 0;
    std::vector<std::string> remarks;
};

/// Writes the sheet to `out` (a temporary name, then renamed). Photos are decoded in worker processes. Throws
/// WrongUse when there are no entries or the book lacks one of the parts, OutsideError when it cannot be
/// written.
RefitSheetResult write_refit_sheet(const book::Book& book, const std::vector<RefitEntry>& entries,
                                   const std::filesystem::path& out, const RefitSheetOptions& options);

}  // namespace stripbook::print
