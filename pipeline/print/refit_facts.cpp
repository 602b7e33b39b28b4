#include "print/refit_facts.h"

#include <fmt/format.h>

#include <array>
#include <numeric>

#include "book/number_text.h"
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
    return in_inches ? fmt::format("{:.4f} in ({})", mm / book::mm_per_inch, metric) : metric;
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
    for (const auto& other : part.together_with) {
        add_wrapped(lines, lettering, "Goes in together with " + printable(other, "name"), form, width);
    }
    if (part.in_place) {
        add_wrapped(lines, lettering, "Already in place, says the book.", form, width);
    }
    for (const auto& reason : part.held_up_by) {
        add_wrapped(lines, lettering, "Not yet: " + printable(reason, "name"), form, width);
    }
    return lines;
}

}  // namespace stripbook::print
