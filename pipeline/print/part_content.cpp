#include "print/part_content.h"

#include "book/settings.h"
#include "print/photo_copies.h"

namespace stripbook::print {

ReportContent content_of(const book::Book& book, const book::PartFile& part, const Paper& paper,
                         const ReportOptions& options) {
    return {
        .machine = book.title(),
        .book_code = book.code().text(),
        .workshop = book::setting(book, "workshop"),
        .part_file = part,
        .copies = copies_for_paper(book, part, paper, options.dots_per_inch, options.stop),
        .date = options.date,
        .program = "stripbook " + options.version,
        .in_inches = book::setting(book, "units") == "inch",
        .overlays = overlays_for_paper(book, part, options.dots_per_inch),
        .currency = book::setting(book, "currency"),
        .for_donor = options.for_donor,
        .with_forms = options.with_forms && !options.for_donor,
    };
}

}  // namespace stripbook::print
