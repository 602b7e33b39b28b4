#include "print/condition_report.h"

#include <utility>

#include "book/settings.h"
#include "print/donor_copy.h"
#include "print/photo_copies.h"
#include "print/report_drawing.h"
#include "print/report_file.h"

namespace stripbook::print {

ReportResult write_condition_report(const book::Book& book, const book::PartFile& whole,
                                    const std::filesystem::path& out, const ReportOptions& options) {
    const book::PartFile part = options.for_donor ? donor_copy(whole, options.with_costs) : whole;
    const Paper paper = options.letter ? Paper::us_letter() : Paper::a4();
    const ReportContent content{
        .machine = book.title(),
        .book_code = book.code().text(),
        .workshop = book::setting(book, "workshop"),
        .part_file = part,
        .copies = copies_for_paper(book.folder(), part, paper, options.stop),
        .date = options.date,
        .program = "stripbook " + options.version,
        .in_inches = book::setting(book, "units") == "inch",
        .overlays = overlays_for_paper(book, part),
        .currency = book::setting(book, "currency"),
        .for_donor = options.for_donor,
    };
    DrawnReport drawn = draw_report(content, paper);
    write_whole_file(out, drawn.pdf);
    return {out, drawn.pages, drawn.photos, std::move(drawn.remarks)};
}

}  // namespace stripbook::print
