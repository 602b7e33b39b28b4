// The pages before the parts in a report of an assembly or of the whole job: title, contents, how far the
// work is, what is complete, hazards, hours and costs, all parts in a table.
#pragma once

#include <vector>

#include "print/bookmark.h"
#include "print/job_content.h"
#include "print/joined_pdf.h"
#include "print/paper.h"
#include "print/pdf_document.h"

namespace stripbook::print {

struct JobFront {
    std::vector<Bookmark> bookmarks;  ///< on level 0
    std::vector<PageLink> links;
    std::vector<std::string> remarks;
};

/// Draws them as the first pages of `document`. How many there are does not depend on the page numbers in
/// `content`: drawn once to count them, then again when the parts' pages are known.
JobFront draw_front(const JobContent& content, PdfDocument& document, const Paper& paper);

/// What the report is called: "Condition report of the whole job", "Condition report: Running gear".
std::string title_of(const JobContent& content);

}  // namespace stripbook::print
