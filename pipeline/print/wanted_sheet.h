// Sheets that go to a dealer or a machine shop: what the part is, its photos, its dimensions with their
// uncertainty, and lines for an answer. One part begins on a page of its own; a list stands before several.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/part_file.h"
#include "book/wanted.h"

namespace stripbook::print {

/// On every page of these sheets.
inline constexpr const char* not_a_drawing_note = "For identification; not a manufacturing drawing";

struct WantedSheetOptions {
    std::string date;  ///< "2026-11-25": printed, and the PDF's own dates; same book and date, same bytes
    std::string version;
    bool letter = false;  ///< US Letter, else A4
    std::function<bool()> stop;
};

struct WantedSheetResult {
    std::filesystem::path file;
    int pages = 0;
    int photos = 0;
    std::vector<std::string> remarks;
};

/// What of a part's record goes out: no storage place, names, notes, history, reasons, dealers, prices or
/// hours, no work that is done; few photos: the part as removed, at each stage, and those of findings.
book::PartFile wanted_copy(book::PartFile file);

/// Writes the sheets to `out` (a temporary name, then renamed). Photos are decoded in worker processes.
/// Throws WrongUse when there are no parts, OutsideError when it cannot be written, Stopped.
WantedSheetResult write_wanted_sheets(const book::Book& book, const std::vector<book::WantedPart>& wanted,
                                      const std::filesystem::path& out, const WantedSheetOptions& options);

}  // namespace stripbook::print
