#include <fmt/format.h>

#include <algorithm>

#include "book/number_text.h"
#include "book/parts_tree.h"
#include "number/money.h"
#include "print/job_sections.h"
#include "print/report_sections.h"
#include "print/ruled_table.h"

namespace stripbook::print {

namespace {

constexpr std::size_t most_cell_lines = 4;
constexpr std::size_t most_caution_lines = 3;

ProgressCounts counts_of(const JobContent& content) {
    ProgressCounts counts;
    for (const auto& part : content.parts) {
        ++counts[part.part.path][part.stage];
    }
    return counts;
}

std::string joined(const std::vector<std::string>& words, const char* between) {
    return fmt::format("{}", fmt::join(words, between));
}

std::string name_of(JobDesk& desk, const book::Part& part) {
    return part.name.empty() ? "name not yet known" : desk.printable(part.name, "name");
}

std::string hazards_of(JobDesk& desk, const JobPart& part) {
    std::vector<std::string> words;
    for (const auto& hazard : part.hazards) {
        words.push_back(desk.printable(hazard_words(hazard), "hazard", "the book"));
    }
    return joined(words, "; ");
}

bool is_short(const book::Completeness& kind) {
    return kind.present < kind.expected;
}

// One of each kind of hazard, for its caution.
std::vector<book::Hazard> kinds_in(const JobContent& content) {
    std::vector<book::Hazard> kinds;
    for (const char* kind : book::hazard_kinds) {
        const bool any = std::any_of(content.parts.begin(), content.parts.end(), [&](const JobPart& part) {
            return std::any_of(part.hazards.begin(), part.hazards.end(),
                               [&](const book::Hazard& hazard) { return hazard.kind == kind; });
        });
        if (any) {
            kinds.push_back({kind, std::nullopt, ""});
        }
    }
    return kinds;
}

std::string hours(double value) {
    return value > 0 ? book::number_text(value) : "";
}

std::string money(JobDesk& desk, std::int64_t cents) {
    return cents == 0 ? "" : desk.printable(number::money_text(cents, desk.content.currency), "currency");
}

bool has_costs(const JobContent& content) {
    return content.with_costs &&
           std::any_of(content.sums.begin(), content.sums.end(), [](const book::AssemblySum& sum) {
               return sum.hours_planned > 0 || sum.hours_taken > 0 || sum.price_cents != 0;
           });
}

bool has_hazards(const JobContent& content) {
    return std::any_of(content.parts.begin(), content.parts.end(),
                       [](const JobPart& part) { return !part.hazards.empty(); });
}

void draw_parts_of_assembly(JobDesk& desk, std::vector<JobPart>::const_iterator from,
                            std::vector<JobPart>::const_iterator to) {
    const std::string assembly =
        from->part.assembly.empty() ? "No assembly told" : desk.printable(from->part.assembly, "assembly");
    small_heading(desk.flow, desk.flow.lettering().cut(assembly, type::body_bold, desk.flow.width()), 14);
    std::vector<std::vector<std::string>> rows;
    for (auto part = from; part != to; ++part) {
        rows.push_back({part->part.tag.text(), name_of(desk, part->part), part->stage, part->part.path,
                        part->findings == 0 ? "" : std::to_string(part->findings), hazards_of(desk, *part),
                        std::to_string(part->photos), std::to_string(part->page + 1)});
    }
    draw_text_table(desk.flow,
                    {{"tag", 25},
                     {"part", 50},
                     {"stage", 20},
                     {"path", 18},
                     {"findings", 14},
                     {"hazards", 32},
                     {"photos", 12},
                     {"page", 11}},
                    rows, most_cell_lines, [&](std::size_t row, const BoxMm& box) {
                        desk.link(box, (from + static_cast<std::ptrdiff_t>(row))->page);
                    });
}

}  // namespace

std::vector<std::string> sections_of(const JobContent& content) {
    std::vector<std::string> titles{job_section::progress};
    if (!content.completeness.empty()) {
        titles.emplace_back(job_section::completeness);
    }
    if (has_hazards(content)) {
        titles.emplace_back(job_section::hazards);
    }
    if (has_costs(content)) {
        titles.emplace_back(job_section::costs);
    }
    titles.emplace_back(job_section::parts);
    return titles;
}

void begin_section(JobDesk& desk, const char* title, double mm) {
    desk.flow.heading(title, mm);
    desk.bookmarks.push_back({title, 0, desk.flow.page(), desk.flow.y() - ReportFlow::heading_height});
}

void draw_progress(JobDesk& desk) {
    desk.flow.new_page();
    begin_section(desk, job_section::progress, progress_chart_height() + 12);
    desk.flow.paragraph(
        fmt::format("What happens to the {} part{}, and how far they are: each bar is a path, "
                    "parted by the stage that the newest photos show.",
                    desk.content.parts.size(), desk.content.parts.size() == 1 ? "" : "s"),
        type::body, 2);
    desk.flow.move_down(4);
    draw_progress_chart(desk.flow, counts_of(desk.content));
}

void draw_completeness(JobDesk& desk) {
    const auto& kinds = desk.content.completeness;
    if (kinds.empty()) {
        return;
    }
    begin_section(desk, job_section::completeness, 24);
    const auto missing = std::count_if(kinds.begin(), kinds.end(), is_short);
    desk.flow.paragraph(missing == 0
                            ? fmt::format("Everything expected is present ({} kinds of part).", kinds.size())
                            : fmt::format("Of {} kinds of part, {} not all present.", kinds.size(),
                                          missing == 1 ? "one is" : std::to_string(missing) + " are"),
                        type::body, 1);
    desk.flow.move_down(2);
    std::vector<std::vector<std::string>> rows;
    rows.reserve(kinds.size());
    for (const auto& kind : kinds) {
        rows.push_back({desk.printable(kind.name, "name"), desk.printable(kind.assembly, "assembly"),
                        std::to_string(kind.expected), std::to_string(kind.present),
                        is_short(kind) ? fmt::format("{} missing", kind.expected - kind.present) : "",
                        desk.printable(joined(kind.short_in, "; "), "assembly")});
    }
    draw_text_table(
        desk.flow,
        {{"part", 48}, {"assembly", 44}, {"expected", 16}, {"present", 16}, {"", 20}, {"where", 46}}, rows,
        most_cell_lines);
}

void draw_hazards(JobDesk& desk) {
    if (!has_hazards(desk.content)) {
        return;
    }
    begin_section(desk, job_section::hazards, 30);
    for (const auto& line : book::cautions_for(kinds_in(desk.content))) {
        desk.flow.paragraph("\u2013 " + line, type::body, most_caution_lines);
    }
    desk.flow.move_down(3);
    std::vector<std::vector<std::string>> rows;
    std::vector<std::size_t> pages;
    for (const auto& part : desk.content.parts) {
        if (!part.hazards.empty()) {
            rows.push_back({part.part.tag.text(), name_of(desk, part.part), hazards_of(desk, part),
                            std::to_string(part.page + 1)});
            pages.push_back(part.page);
        }
    }
    draw_text_table(desk.flow, {{"tag", 27}, {"part", 60}, {"hazards", 82}, {"page", 11}}, rows,
                    most_cell_lines, [&](std::size_t row, const BoxMm& box) { desk.link(box, pages[row]); });
}

void draw_costs(JobDesk& desk) {
    if (!has_costs(desk.content)) {
        return;
    }
    begin_section(desk, job_section::costs, 24);
    std::vector<std::vector<std::string>> rows;
    for (const auto& sum : desk.content.sums) {
        const std::string name =
            sum.assembly.empty() ? "All together" : desk.printable(sum.assembly, "assembly");
        rows.push_back({name, std::to_string(sum.parts), hours(sum.hours_planned), hours(sum.hours_open),
                        hours(sum.hours_taken), money(desk, sum.price_cents)});
    }
    draw_text_table(desk.flow,
                    {{"assembly", 74},
                     {"parts", 14},
                     {"hours planned", 24},
                     {"still to do", 22},
                     {"hours taken", 22},
                     {"prices", 24}},
                    rows, most_cell_lines);
    desk.flow.move_down(1.5);
    desk.flow.paragraph("An assembly counts everything within it. Work that was dropped does not count.",
                        type::small, 1);
}

void draw_all_parts(JobDesk& desk) {
    begin_section(desk, job_section::parts, 30);
    const auto& parts = desk.content.parts;
    if (parts.empty()) {
        desk.flow.paragraph("No part lies here.", type::body, 1);
    }
    for (auto from = parts.begin(); from != parts.end();) {
        const auto to = std::find_if(from, parts.end(), [&](const JobPart& part) {
            return part.part.assembly != from->part.assembly;
        });
        draw_parts_of_assembly(desk, from, to);
        from = to;
    }
}

}  // namespace stripbook::print
