// What a report of many parts says before the parts, fetched from the book.
#pragma once

#include "book/book.h"
#include "print/job_content.h"
#include "print/job_report.h"

namespace stripbook::print {

/// Everything but the pages. Throws WrongUse as write_job_report does.
JobContent job_content_of(const book::Book& book, const JobReportOptions& options, const Paper& paper);

}  // namespace stripbook::print
