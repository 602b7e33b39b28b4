// The condition report of one part as a PDF file, from content that is all at hand.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "print/report_content.h"
#include "print/report_flow.h"

namespace stripbook::print {

struct DrawnReport {
    int pages = 0;
    int photos = 0;  ///< shown as pictures
    std::vector<std::string> remarks;
    std::string why_not_archival;  ///< empty: the file is PDF/A-1b
};

/// Writes `file`, all of it or nothing. Throws OutsideError when a font is missing, memory runs out or the
/// file cannot be written, WrongUse when the date is none.
DrawnReport draw_report(const ReportContent& content, const Paper& paper, const std::filesystem::path& file);

/// Why a document of these pieces is no PDF/A-1b; empty: it is. `unicode`: a piece drew a character outside
/// Windows code page 1252, for which libharu makes fonts that PDF/A does not allow.
std::string why_not_archival(bool unicode);

}  // namespace stripbook::print
