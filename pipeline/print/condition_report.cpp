#include "print/condition_report.h"

#include <utility>

#include "print/donor_copy.h"
#include "print/part_content.h"
#include "print/report_drawing.h"

namespace stripbook::print {

ReportResult write_condition_report(const book::Book& book, const book::PartFile& whole,
                                    const std::filesystem::path& out, const ReportOptions& options) {
    const book::PartFile part = options.for_donor ? donor_copy(whole, options.with_costs) : whole;
    const Paper paper = options.letter ? Paper::us_letter() : Paper::a4();
    DrawnReport drawn = draw_report(content_of(book, part, paper, options), paper, out);
    return {out, drawn.pages, drawn.photos, std::move(drawn.remarks), std::move(drawn.why_not_archival)};
}

}  // namespace stripbook::print
