// One part's condition report drawn into a document that may hold others.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "print/bookmark.h"
#include "print/paper.h"
#include "print/pdf_document.h"
#include "print/report_content.h"

namespace stripbook::print {

struct PartPages {
    std::size_t pages = 0;
    int photos = 0;                    ///< shown as pictures
    std::vector<Bookmark> bookmarks;   ///< the part itself on level 0, its sections on level 1
    std::vector<std::string> remarks;  ///< what the person should know
};

/// Draws on new pages at the end of `document`. `pages_before`: of the larger document, before the first of
/// `document`'s own; not set: the part is the whole document. Throws OutsideError as PdfDocument does.
PartPages draw_part(const ReportContent& content, PdfDocument& document, const Paper& paper,
                    std::optional<std::size_t> pages_before);

}  // namespace stripbook::print
