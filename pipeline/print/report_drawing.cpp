#include "print/report_drawing.h"

#include <fmt/format.h>

#include "print/characters.h"
#include "print/report_sections.h"

namespace stripbook::print {

namespace {

constexpr std::size_t most_in_a_title = 200;  ///< characters, of bookmarks and document facts

DocumentFacts facts_of(const ReportContent& content, PrintableText& printable) {
    const book::Part& part = content.part_file.part;
    DocumentFacts facts;
    facts.title = fmt::format(
        "Condition report {}{}", part.tag.text(),
        part.name.empty() ? "" : ", " + first_characters(printable(part.name, "name"), most_in_a_title));
    facts.author =
        content.workshop.empty()
            ? ""
            : first_characters(printable(content.workshop, "workshop", "the settings"), most_in_a_title);
    facts.subject = fmt::format("{} ({})", printable(content.machine, "title of the machine", "the book"),
                                content.book_code);
    facts.program = content.program;
    facts.date = content.date;
    return facts;
}

}  // namespace

DrawnReport draw_report(const ReportContent& content, const Paper& paper) {
    const Lettering lettering;
    const std::string tag = content.part_file.part.tag.text();
    PrintableText printable(lettering, tag);
    PdfDocument document(lettering, facts_of(content, printable));
    ReportFlow flow(document, paper);
    ReportDesk desk{content, flow, printable};
    desk.root_bookmark =
        document.add_bookmark(fmt::format("{} {}", tag, first_characters(desk.name(), most_in_a_title)),
                              flow.sheet(), flow.body_top(), nullptr);
    draw_identity(desk);
    draw_as_removed(desk);
    draw_details(desk);
    draw_dimensions(desk);
    draw_condition_and_path(desk);
    draw_sign_off(desk);
    if (!content.for_donor) {
        draw_notes(desk);
        draw_history(desk);
    }
    flow.finish({desk.printable(content.machine, "title of the machine", "the book"), tag, desk.name(),
                 content.program, content.date});
    return {document.bytes(), static_cast<int>(document.sheets().size()), desk.photos_shown,
            printable.remarks()};
}

}  // namespace stripbook::print
