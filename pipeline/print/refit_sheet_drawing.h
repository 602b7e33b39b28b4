// The refit sheet as the bytes of a PDF, step by step, from content that is at hand.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "print/paper.h"
#include "print/refit_block.h"
#include "print/refit_pictures.h"
#include "print/refit_sheet_content.h"

namespace stripbook::print {

struct DrawnRefitSheet {
    std::string pdf;
    int pages = 0;
    int photos = 0;  ///< shown as pictures, counted each time
    std::vector<std::string> remarks;
};

/// A line of the list in front.
struct OverviewLine {
    std::size_t step = 0;
    book::Part part;
};

class RefitSheetDrawing {
  public:
    /// Throws OutsideError when a font is missing, WrongUse when the date is none.
    RefitSheetDrawing(RefitSheetWords words, const Paper& paper, CopyMaker make_copies);

    /// The list in front, with the page of each part and a box to tick; call before the first step.
    void add_overview(const std::vector<OverviewLine>& lines);
    /// One step: its parts stand on one page where they fit, and no page break falls inside a part that fits
    /// on one.
    void add_step(const std::vector<RefitSheetPart>& parts);
    /// Head, foot and page numbers; nothing can be added after it.
    DrawnRefitSheet finish();

  private:
    struct PlaceForPage {
        std::size_t sheet = 0;
        double right = 0;
        double baseline = 0;
    };

    [[nodiscard]] BoxMm body() const;
    void new_page();
    void draw_pages_of(const Block& block, const std::string& tag_and_name);
    void draw_overview_line(const OverviewLine& line, double y);
    void draw_head_and_foot(Sheet& sheet, std::size_t page, std::size_t pages) const;
    void keep_remarks(const PrintableText& printable);

    RefitSheetWords words_;
    Paper paper_;
    Lettering lettering_;
    PdfDocument document_;
    RefitPictures pictures_;
    Sheet* sheet_ = nullptr;
    double y_ = 0;
    int photos_shown_ = 0;
    std::vector<std::string> remarks_;
    std::map<number::TagNumber, PlaceForPage> overview_;
    std::map<number::TagNumber, std::size_t> page_of_;
};

}  // namespace stripbook::print
