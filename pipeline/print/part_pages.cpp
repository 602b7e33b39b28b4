#include "print/part_pages.h"

#include <fmt/format.h>

#include "print/characters.h"
#include "print/report_sections.h"

namespace stripbook::print {

PartPages draw_part(const ReportContent& content, PdfDocument& document, const Paper& paper,
                    std::optional<std::size_t> pages_before) {
    const std::string tag = content.part_file.part.tag.text();
    PrintableText printable(document.lettering(), tag);
    ReportFlow flow(document, paper);
    ReportDesk desk{content, flow, printable};
    const std::string title = fmt::format("{} {}", tag, first_characters(desk.name(), most_in_a_title));
    desk.bookmarks.push_back({title, 0, flow.page(), flow.body_top()});
    draw_identity(desk);
    draw_as_removed(desk);
    draw_before_and_after(desk);
    draw_details(desk);
    draw_dimensions(desk);
    draw_condition_and_path(desk);
    if (content.with_forms) {
        draw_sign_off(desk);
    }
    if (!content.for_donor) {
        draw_notes(desk);
        draw_history(desk);
    }
    if (pages_before) {
        *pages_before += flow.first_page();
    }
    flow.finish({.machine = desk.printable(content.machine, "title of the machine", "the book"),
                 .tag = tag,
                 .name = desk.name(),
                 .program = content.program,
                 .date = content.date},
                pages_before);
    return {document.sheets().size() - flow.first_page(), desk.photos_shown, std::move(desk.bookmarks),
            printable.remarks()};
}

}  // namespace stripbook::print
