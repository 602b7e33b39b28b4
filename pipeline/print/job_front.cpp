#include "print/job_front.h"

#include "print/job_sections.h"

namespace stripbook::print {

std::string title_of(const JobContent& content) {
    return content.assembly.empty() ? "Condition report of the whole job"
                                    : "Condition report: " + content.assembly;
}

JobFront draw_front(const JobContent& content, PdfDocument& document, const Paper& paper) {
    PrintableText printable(document.lettering(), content.book_code);
    ReportFlow flow(document, paper);
    JobDesk desk{content, flow, printable};
    draw_title_page(desk);
    draw_contents(desk);
    draw_progress(desk);
    draw_completeness(desk);
    draw_hazards(desk);
    draw_costs(desk);
    draw_all_parts(desk);
    const std::string machine = printable(content.machine, "title of the machine", "the book");
    flow.finish({.machine = machine,
                 .tag = content.book_code,
                 .name = content.assembly.empty() ? "the whole job" : printable(content.assembly, "assembly"),
                 .program = content.program,
                 .date = content.date},
                std::size_t{0});
    return {std::move(desk.bookmarks), std::move(desk.links), printable.remarks()};
}

}  // namespace stripbook::print
