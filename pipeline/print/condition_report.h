// The condition report of one part as a PDF: what it is, where it sat and how it looked as removed, its
// condition, its path, and proof.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/part_file.h"
#include "photo/worker_pool.h"
#include "print/photo_copies.h"

namespace stripbook::print {

struct ReportOptions {
    std::string
        date;  ///< "2026-11-25": printed, and the PDF's own dates; same book and same date, same bytes
    std::string version;  ///< of the program, printed in the foot
    bool letter = false;  ///< US Letter, else A4
    std::function<bool()> stop;
    bool for_donor = false;                     ///< leaves out what donor_copy.h says
    bool with_costs = false;                    ///< a donor is shown prices and hours
    bool with_forms = true;                     ///< lines to write on by hand, but never for a donor
    double dots_per_inch = good_dots_per_inch;  ///< of the photos on paper
};

struct ReportResult {
    std::filesystem::path file;
    int pages = 0;
    int photos = 0;  ///< shown as pictures
    /// What the person should know: text that cannot be printed as written (Arabic, ...), photos that do not
    /// decode.
    std::vector<std::string> remarks;
    std::string why_not_archival;  ///< empty: the file is PDF/A-1b
};

/// Writes the report of the part `whole` to `out` (a temporary name, then renamed). Photos are decoded in
/// worker processes. Throws OutsideError when it cannot be written.
ReportResult write_condition_report(const book::Book& book, const book::PartFile& whole,
                                    const std::filesystem::path& out, const ReportOptions& options);

}  // namespace stripbook::print
