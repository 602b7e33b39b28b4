#include "print/refit_facts.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <numeric>

#include "book/number_text.h"
#include "number/length_text.h"
#include "refit/torque.h"

namespace stripbook::print {

namespace {

using Kind = book::RefitNoteKind;

constexpr Type fact{Face::regular, 13};
constexpr Type fact_label{Face::bold, 10.5};
constexpr Type source_type{Face::regular, 10};
constexpr Type caution_type{Face::bold, 13};
constexpr Type standing_type{Face::bold, 11};
constexpr double tick_column = 7;
constexpr std::size_t most_lines_of_a_fact = 8;
// So that photos still have room under them.
constexpr std::size_t most_caution_lines = 12;
constexpr std::size_t most_reasons = 6;

struct Group {
    Kind kind;
    const char* label;
};

// As the work goes: which way, with what under it, how it was set, then the fasteners.
constexpr std::array<Group, 7> groups{{{Kind::match_marks, "Match marks"},
                                       {Kind::way_round, "Which way round"},
                                       {Kind::shim, "Shims"},
                                       {Kind::setting, "Settings as found"},
                                       {Kind::always_new, "Always new"},
                                       {Kind::fastener, "Fasteners"},
                                       {Kind::torque, "Torque"}}};

std::string thickness(double mm, bool in_inches) {
    const std::string metric = book::number_text(mm) + " mm";
    return in_inches ? fmt::format("{:.4f} in ({})", mm / number::mm_per_inch, metric) : metric;
}

std::string counted(const book::RefitNote& note, const std::string& item) {
    return note.count ? fmt::format("{} of {}", *note.count, item) : item;
}

refit::Torque torque_of(const book::RefitNote& note) {
    return {note.value.value_or(0),
            refit::torque_unit_of(note.unit).value_or(refit::TorqueUnit::newton_metre)};
}

// The line below: a torque in the other unit, and where it comes from.
std::string source_words(const book::RefitNote& note) {
    return fmt::format("= {}, from {}", refit::torque_in_other_unit(torque_of(note)), note.source);
}

std::string words_on_paper(const book::RefitNote& note, bool in_inches) {
    if (note.kind == Kind::shim) {
        return fmt::format("{}: {}{}", note.place,
                           counted(note, thickness(note.value.value_or(0), in_inches)),
                           note.words.empty() ? "" : ", " + note.words);
    }
    if (note.kind == Kind::torque) {
        return fmt::format("{}: {}", note.words, refit::torque_words(torque_of(note)));
    }
    return book::refit_note_words(note);
}

void add_wrapped(std::vector<FactLine>& lines, const Lettering& lettering, const std::string& text,
                 FactLine form, double width) {
    for (const auto& piece : lettering.wrapped(text, form.type, width - form.indent, most_lines_of_a_fact)) {
        form.text = piece;
        lines.push_back(form);
        form.tick = false;
        form.space_above = 0;
    }
}

}  // namespace

double height_of(const std::vector<FactLine>& lines) {
    return std::accumulate(lines.begin(), lines.end(), 0.0,
                           [](double sum, const FactLine& line) { return sum + line.height(); });
}

std::vector<FactLine> fact_lines(const RefitSheetPart& part, PrintableText& printable,
                                 const Lettering& lettering, double width, bool in_inches) {
    std::vector<FactLine> lines;
    for (const auto& group : groups) {
        bool labelled = false;
        for (const auto& note : part.notes) {
            if (note.kind != group.kind) {
                continue;
            }
            if (!labelled) {
                lines.push_back({group.label, fact_label, false, 0, lines.empty() ? 0.0 : 3});
                labelled = true;
            }
            const std::string what = fmt::format("refit note {}", note.number);
            add_wrapped(lines, lettering, printable(words_on_paper(note, in_inches), what, "the book"),
                        {"", fact, true, tick_column, 0.8}, width);
            if (note.kind == Kind::torque) {
                add_wrapped(lines, lettering, printable(source_words(note), what, "the book"),
                            {"", source_type, false, tick_column, 0}, width);
            }
        }
    }
    return lines;
}

std::vector<FactLine> caution_lines(const RefitSheetPart& part, PrintableText& printable,
                                    const Lettering& lettering, double width) {
    std::vector<FactLine> lines;
    for (const auto& caution : part.cautions) {
        add_wrapped(lines, lettering, "Caution: " + printable(caution, "caution", "the book"),
                    {"", caution_type, false, 0, 0}, width);
    }
    if (lines.size() > most_caution_lines) {
        lines.resize(most_caution_lines);
        add_wrapped(lines, lettering,
                    "Caution: there is more in the book, read it first: stripbook parts show",
                    {"", caution_type, false, 0, 0}, width);
        printable.add_remark("the cautions of " + part.file.part.tag.text() +
                             " are too long for the refit sheet: it says to read them in the book");
    }
    if (!lines.empty()) {
        lines.push_back(
            {"Local codes and licensed practice come before this sheet.", standing_type, false, 0, 0.6});
    }
    return lines;
}

std::vector<FactLine> standing_lines(const RefitSheetPart& part, PrintableText& printable,
                                     const Lettering& lettering, double width) {
    std::vector<FactLine> lines;
    const FactLine form{"", standing_type, false, 0, 0};
    if (!part.together_with.empty()) {
        add_wrapped(lines, lettering,
                    "Goes in together with " +
                        printable(fmt::format("{}", fmt::join(part.together_with, "; ")), "name"),
                    form, width);
    }
    if (part.in_place) {
        add_wrapped(lines, lettering, "Already in place, says the book.", form, width);
    }
    const std::size_t shown = std::min(part.held_up_by.size(), most_reasons);
    for (std::size_t i = 0; i < shown; ++i) {
        const std::string words = "Not yet: " + printable(part.held_up_by[i], "name");
        lines.push_back({lettering.cut(words, standing_type, width), standing_type});
    }
    if (shown < part.held_up_by.size()) {
        lines.push_back(
            {fmt::format("and {} more reasons: stripbook refit next --all", part.held_up_by.size() - shown),
             standing_type});
    }
    return lines;
}

}  // namespace stripbook::print
