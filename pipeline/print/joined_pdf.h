// Documents drawn in pieces become one PDF: their pages in order, with bookmarks, links from page to page,
// and the facts that make it PDF/A-1b (ISO 19005-1) where its text allows. Joined with libqpdf, which copies
// the pieces' streams as they are and keeps no more than one of them in memory.
#pragma once

#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>
#include <vector>

#include "print/bookmark.h"
#include "print/pdf_document.h"
#include "print/sheet.h"

namespace stripbook::print {

/// Where a click on `box` leads. Pages are counted from 0 in the joined document.
struct PageLink {
    std::size_t page = 0;
    BoxMm box;
    std::size_t to_page = 0;
    double to_y = 0;  ///< mm from that page's top
};

/// A finished document on disk, without a name there: it is gone with this.
class PdfPiece {
  public:
    /// Saves `document` in `folder`. Throws OutsideError when it cannot be written there.
    PdfPiece(PdfDocument& document, const std::filesystem::path& folder);
    [[nodiscard]] std::FILE* file() const { return file_.get(); }

  private:
    std::unique_ptr<std::FILE, int (*)(std::FILE*)> file_;
};

struct JoinPlan {
    DocumentFacts facts;
    std::vector<Bookmark> bookmarks;
    std::vector<PageLink> links;
    int open_levels = 1;    ///< of bookmarks: those above are shown open
    bool archival = false;  ///< PDF/A-1b: no piece drew a character outside Windows code page 1252
};

/// Writes the whole document to `file`, all of it or nothing; same pieces and plan, same bytes. Throws
/// OutsideError when it cannot be written.
void write_joined(const std::vector<PdfPiece>& pieces, const JoinPlan& plan,
                  const std::filesystem::path& file);

}  // namespace stripbook::print
