// The report of an assembly or of the whole job as one PDF: the pages of job_front.h, then every part's
// condition report. However large the job: the parts are drawn in pieces of bounded size, which lie on disk
// until they are joined.
#pragma once

#include <filesystem>
#include <functional>
#include <optional>
#include <string>

#include "book/book.h"
#include "print/condition_report.h"

namespace stripbook::print {

struct JobReportOptions {
    ReportOptions report;
    std::string assembly;                    ///< only the parts in it; empty: the whole job
    std::optional<book::PhotoNumber> cover;  ///< for the title page; not set: the first as-removed photo of
                                             ///< the part that has most of them
    std::function<void(std::size_t done, std::size_t all)> progress;  ///< parts
};

/// Writes the report to `out` (a temporary name, then renamed). Throws WrongUse when no part lies in the
/// assembly or the cover is no photo of the book, OutsideError when it cannot be written, Stopped.
ReportResult write_job_report(const book::Book& book, const std::filesystem::path& out,
                              const JobReportOptions& options);

}  // namespace stripbook::print
