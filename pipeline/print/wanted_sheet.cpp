#include "print/wanted_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "book/settings.h"
#include "errors.h"
#include "print/characters.h"
#include "print/joined_pdf.h"
#include "print/part_content.h"
#include "print/printable_text.h"
#include "print/report_drawing.h"
#include "print/report_file.h"
#include "print/wanted_section.h"

namespace stripbook::print {

namespace {

struct DrawnPart {
    std::size_t first_page = 0;  ///< of the whole document, from 0
    std::vector<std::string> cells;
};

DocumentFacts facts_of(const book::Book& book, const Lettering& lettering,
                       const WantedSheetOptions& options) {
    PrintableText printable(lettering, book.code().text());
    const std::string machine =
        first_characters(printable(book.title(), "title of the machine", "the book"), most_in_a_title);
    return {"Parts asked for: " + machine, "", not_a_drawing_note, "stripbook " + options.version,
            options.date};
}

// All the sheets, in pieces on disk: a list as long as it likes takes no more memory.
class WantedDrawing {
  public:
    WantedDrawing(const book::Book& book, const Lettering& lettering, const Paper& paper,
                  const WantedSheetOptions& options, std::filesystem::path folder)
        : book_(book),
          lettering_(lettering),
          paper_(paper),
          options_(options),
          folder_(std::move(folder)),
          facts_(facts_of(book, lettering, options)) {}

    /// Pages that come before the first part.
    void leave_pages(std::size_t pages) { pages_ = pages; }

    DrawnPart draw(const book::WantedPart& wanted) {
        const auto file = wanted_copy(book::gather_part(book_, wanted.part.tag));
        ReportOptions options;
        options.date = options_.date;
        options.version = options_.version;
        options.stop = options_.stop;
        options.for_donor = true;
        options.with_forms = false;
        const ReportContent content = content_of(book_, file, paper_, options);
        PdfDocument document(lettering_, facts_);
        PrintableText printable(lettering_, wanted.part.tag.text());
        ReportFlow flow(document, paper_);
        ReportDesk desk{content, flow, printable};
        draw_sections(desk, wanted.quantity);
        flow.finish(running_words(desk.tag(), desk.name(), wanted_words(wanted.part.path)), pages_);
        DrawnPart drawn{pages_,
                        {desk.tag(), desk.name(), wanted_words(wanted.part.path),
                         std::to_string(wanted.quantity), std::to_string(pages_ + 1)}};
        bookmarks_.push_back(
            {first_characters(desk.tag() + " " + desk.name(), most_in_a_title), 0, pages_, flow.body_top()});
        photos_ += desk.photos_shown;
        remarks_.insert(remarks_.end(), printable.remarks().begin(), printable.remarks().end());
        keep(document);
        return drawn;
    }

    /// Returns how many pages the list takes.
    std::size_t draw_list(const std::vector<DrawnPart>& parts, bool keep_it) {
        PdfDocument document(lettering_, facts_);
        ReportFlow flow(document, paper_);
        std::vector<WantedRow> rows;
        rows.reserve(parts.size());
        for (const auto& part : parts) {
            rows.push_back({part.cells, part.first_page});
        }
        std::vector<PageLink> links;
        draw_wanted_list(flow, rows, [&](std::size_t row, const BoxMm& box) {
            links.push_back({flow.page(), box, rows[row].to_page, flow.body_top()});
        });
        flow.finish(running_words(book_.code().text(), "", "Parts asked for"), std::size_t{0});
        const std::size_t pages = document.sheets().size();
        if (keep_it) {
            links_ = std::move(links);
            keep(document);
            std::rotate(pieces_.begin(), pieces_.end() - 1, pieces_.end());
        }
        return pages;
    }

    WantedSheetResult write(const std::filesystem::path& out) {
        write_joined(pieces_, {facts_, bookmarks_, links_, 1, why_not_archival(unicode_).empty()}, out);
        return {out, static_cast<int>(all_pages_), photos_, std::move(remarks_)};
    }

  private:
    void draw_sections(ReportDesk& desk, int quantity) {
        draw_wanted_head(desk, quantity);
        draw_wanted_cautions(desk);
        draw_as_removed(desk);
        draw_details(desk);
        draw_dimensions(desk);
        draw_findings(desk);
        draw_gauge_readings(desk);
        draw_answer_lines(desk.flow);
    }

    [[nodiscard]] RunningWords running_words(const std::string& tag, const std::string& name,
                                             const std::string& kind) const {
        return {.kind = kind + ". " + not_a_drawing_note,
                .machine = "",
                .tag = tag,
                .name = name,
                .program = facts_.program,
                .date = facts_.date};
    }

    void keep(PdfDocument& document) {
        pages_ += document.sheets().size();
        all_pages_ += document.sheets().size();
        unicode_ |= document.uses_unicode();
        pieces_.emplace_back(document, folder_);
    }

    const book::Book& book_;
    const Lettering& lettering_;
    const Paper& paper_;
    const WantedSheetOptions& options_;
    std::filesystem::path folder_;
    DocumentFacts facts_;
    std::size_t pages_ = 0;      ///< before what is drawn next
    std::size_t all_pages_ = 0;  ///< drawn
    std::vector<PdfPiece> pieces_;
    std::vector<Bookmark> bookmarks_;
    std::vector<PageLink> links_;
    std::vector<std::string> remarks_;
    int photos_ = 0;
    bool unicode_ = false;
};

// Rows as long as the real ones, to see how many pages the list takes.
std::vector<DrawnPart> rows_without_pages(const book::Book& book, const Lettering& lettering,
                                          const std::vector<book::WantedPart>& wanted) {
    PrintableText printable(lettering, book.code().text());
    std::vector<DrawnPart> rows;
    for (const auto& one : wanted) {
        const std::string name =
            one.part.name.empty() ? "name not yet known" : printable(one.part.name, "name");
        rows.push_back(
            {0, {one.part.tag.text(), name, wanted_words(one.part.path), std::to_string(one.quantity), "0"}});
    }
    return rows;
}

}  // namespace

WantedSheetResult write_wanted_sheets(const book::Book& book, const std::vector<book::WantedPart>& wanted,
                                      const std::filesystem::path& out, const WantedSheetOptions& options) {
    if (wanted.empty()) {
        throw WrongUse("no part is wanted from anybody");
    }
    const Lettering lettering;
    const Paper paper = options.letter ? Paper::us_letter() : Paper::a4();
    WantedDrawing drawing(book, lettering, paper, options, folder_of(out));
    const bool with_list = wanted.size() > 1;
    if (with_list) {
        drawing.leave_pages(drawing.draw_list(rows_without_pages(book, lettering, wanted), false));
    }
    std::vector<DrawnPart> drawn;
    drawn.reserve(wanted.size());
    for (const auto& one : wanted) {
        drawn.push_back(drawing.draw(one));
    }
    if (with_list) {
        static_cast<void>(drawing.draw_list(drawn, true));
    }
    return drawing.write(out);
}

}  // namespace stripbook::print
