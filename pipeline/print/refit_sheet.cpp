#include "print/refit_sheet.h"

#include "book/parts.h"
#include "book/refit_needs.h"
#include "book/settings.h"
#include "errors.h"
#include "print/refit_sheet_drawing.h"
#include "print/report_file.h"

namespace stripbook::print {

namespace {

// From here on a list in front helps to find a step.
constexpr std::size_t least_for_overview = 4;

std::string named(const book::Book& book, const number::TagNumber& tag) {
    const auto part = book::find_part(book, tag);
    return part && !part->name.empty() ? tag.text() + " " + part->name : tag.text();
}

RefitSheetPart sheet_part(const book::Book& book, const RefitEntry& entry) {
    RefitSheetPart part(book::gather_part(book, entry.tag));
    const auto parent = book::parent_of(book, part.file.part);
    if (parent) {
        part.parent = book::gather_part(book, *parent);
    }
    part.step = entry.step;
    part.notes = book::refit_notes(book, entry.tag);
    part.cautions = book::cautions_of(book, part.file.part);
    for (const auto& other : entry.together_with) {
        part.together_with.push_back(named(book, other));
    }
    part.held_up_by = entry.held_up_by;
    part.in_place = entry.in_place;
    return part;
}

std::vector<OverviewLine> overview_of(const book::Book& book, const std::vector<RefitEntry>& entries) {
    std::vector<OverviewLine> lines;
    if (entries.size() < least_for_overview) {
        return lines;
    }
    for (const auto& entry : entries) {
        if (const auto part = book::find_part(book, entry.tag)) {
            lines.push_back({entry.step, *part});
        }
    }
    return lines;
}

}  // namespace

RefitSheetResult write_refit_sheet(const book::Book& book, const std::vector<RefitEntry>& entries,
                                   const std::filesystem::path& out, const RefitSheetOptions& options) {
    if (entries.empty()) {
        throw WrongUse("there is no part for the refit sheet");
    }
    const Paper paper = options.letter ? Paper::us_letter() : Paper::a4();
    RefitSheetDrawing drawing({book.title(), options.what, options.date, "stripbook " + options.version,
                               book::setting(book, "units") == "inch"},
                              paper, copies_from_book(book, paper, options.stop));
    drawing.add_overview(overview_of(book, entries));
    for (std::size_t i = 0; i < entries.size();) {
        std::vector<RefitSheetPart> step;
        const std::size_t number = entries[i].step;
        do {
            step.push_back(sheet_part(book, entries[i++]));
        } while (number != 0 && i < entries.size() && entries[i].step == number);
        drawing.add_step(step);
    }
    DrawnRefitSheet drawn = drawing.finish();
    write_whole_file(out, drawn.pdf);
    return {out, drawn.pages, drawn.photos, std::move(drawn.remarks)};
}

}  // namespace stripbook::print
