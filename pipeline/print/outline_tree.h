// Bookmarks as a tree of a PDF (ISO 32000-1, 12.3.3).
#pragma once

#include <qpdf/QPDF.hh>
#include <qpdf/QPDFPageObjectHelper.hh>
#include <vector>

#include "print/bookmark.h"

namespace stripbook::print {

/// A place on a page, shown in the page's width; `y` in mm from its top.
QPDFObjectHandle destination(QPDFPageObjectHelper& page, double y);

/// Bookmarks on levels below `open_levels` are shown, the others when their parent is opened. `pages`: all of
/// the document's.
void add_outline(QPDF& pdf, std::vector<QPDFPageObjectHelper>& pages, const std::vector<Bookmark>& bookmarks,
                 int open_levels);

}  // namespace stripbook::print
