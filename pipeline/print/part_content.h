// What the report of one part shows, fetched from the book and its photos.
#pragma once

#include "book/book.h"
#include "print/condition_report.h"
#include "print/report_content.h"

namespace stripbook::print {

/// Photos are decoded in worker processes. `part` must outlive the content. Throws Stopped when
/// `options.stop` says so.
ReportContent content_of(const book::Book& book, const book::PartFile& part, const Paper& paper,
                         const ReportOptions& options);

}  // namespace stripbook::print
