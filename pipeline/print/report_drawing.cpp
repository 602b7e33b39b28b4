#include "print/report_drawing.h"

#include <fmt/format.h>

#include <utility>

#include "print/characters.h"
#include "print/document_facts.h"
#include "print/joined_pdf.h"
#include "print/part_pages.h"
#include "print/printable_text.h"
#include "print/report_file.h"

namespace stripbook::print {

namespace {

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

std::string why_not_archival(bool unicode) {
    if (unicode) {
        return "it shows characters beyond those of western Europe";
    }
    return colour_profile_is_there() ? "" : "the package icc-profiles-free is not installed";
}

DrawnReport draw_report(const ReportContent& content, const Paper& paper, const std::filesystem::path& file) {
    const Lettering lettering;
    PrintableText printable(lettering, content.part_file.part.tag.text());
    const DocumentFacts facts = facts_of(content, printable);
    PdfDocument document(lettering, facts);
    PartPages drawn = draw_part(content, document, paper, std::nullopt);
    DrawnReport report{static_cast<int>(drawn.pages), drawn.photos, std::move(drawn.remarks),
                       why_not_archival(document.uses_unicode())};
    std::vector<PdfPiece> pieces;
    pieces.emplace_back(document, folder_of(file));
    write_joined(pieces, {facts, std::move(drawn.bookmarks), {}, 2, report.why_not_archival.empty()}, file);
    return report;
}

}  // namespace stripbook::print
