#include "book/hazards.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "book/clock.h"
#include "book/history.h"
#include "book/number_text.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr std::array<const char*, hazard_kinds.size()> cautions{
    "plan the lift; sling or support it before the last fastener is out; nobody below it.",
    "let spring, pressure or held weight off with the proper tool before undoing; stand out of its way.",
    "asbestos is suspected: do not brush, grind, blow off or break; keep it bagged until it has been "
    "sampled.",
    "old paint may hold lead: no dry sanding, burning or dry blasting; collect the waste; wash before "
    "eating.",
    "drain and vent first; no flame, no sparks; an extinguisher at hand.",
    "gloves; cover the edges for storage and carrying.",
    "isolate, discharge, and prove dead before touching.",
};

constexpr std::array<std::pair<const char*, const char*>, 12> other_words{{{"spring", "under load"},
                                                                           {"pressure", "under load"},
                                                                           {"load", "under load"},
                                                                           {"weight", "heavy"},
                                                                           {"asbestos suspected", "asbestos"},
                                                                           {"lead", "lead paint"},
                                                                           {"fuel", "fuel or oil"},
                                                                           {"oil", "fuel or oil"},
                                                                           {"petrol", "fuel or oil"},
                                                                           {"edges", "sharp"},
                                                                           {"electric", "electrical"},
                                                                           {"electricity", "electrical"}}};

std::size_t place_of(const std::string& kind) {
    const auto* const found = std::find(hazard_kinds.begin(), hazard_kinds.end(), kind);
    if (found == hazard_kinds.end()) {
        throw WrongUse(fmt::format("\"{}\" is not a hazard: there are {}", printable_name(kind),
                                   fmt::join(hazard_kinds, ", ")));
    }
    return static_cast<std::size_t>(found - hazard_kinds.begin());
}

void check_hazard(const Hazard& hazard) {
    constexpr double heaviest_kg = 1'000'000;
    static_cast<void>(place_of(hazard.kind));
    check_typed_text(hazard.note, "note");
    if (hazard.mass_kg && hazard.kind != "heavy") {
        throw WrongUse(fmt::format("a mass belongs to the hazard heavy, not to {}", hazard.kind));
    }
    if (hazard.mass_kg && !(*hazard.mass_kg > 0 && *hazard.mass_kg <= heaviest_kg)) {
        throw WrongUse(fmt::format("a mass of {} kg will not do: it must be above 0 and up to 1000000 kg",
                                   number_text(*hazard.mass_kg)));
    }
}

std::optional<Hazard> hazard_of_kind(const Book& book, const number::TagNumber& tag,
                                     const std::string& kind) {
    for (auto& hazard : hazards_of(book, tag)) {
        if (hazard.kind == kind) {
            return std::move(hazard);
        }
    }
    return std::nullopt;
}

// Behind the kind: "180 kg: lift at both lugs".
std::string details_of(const Hazard& hazard) {
    std::string words = hazard.mass_kg ? number_text(*hazard.mass_kg) + " kg" : "";
    if (!hazard.note.empty()) {
        words += (words.empty() ? "" : ": ") + hazard.note;
    }
    return words.empty() ? "yes" : words;
}

}  // namespace

std::string hazard_kind_from_typed(const std::string& word) {
    const std::string small = in_small_letters(without_outer_spaces(word));
    for (const auto& [other, kind] : other_words) {
        if (small == other) {
            return kind;
        }
    }
    return hazard_kinds.at(place_of(small));
}

void set_hazard(Book& book, const number::TagNumber& tag, const Hazard& hazard, const std::string& who) {
    check_hazard(hazard);
    book.together([&] {
        static_cast<void>(part_or_refusal(book, tag));
        const auto before = hazard_of_kind(book, tag, hazard.kind);
        if (before && details_of(*before) == details_of(hazard)) {
            return;
        }
        Query(book,
              "INSERT INTO hazard (tag, kind, mass_kg, note, at, who) VALUES (?, ?, ?, ?, ?, ?) ON CONFLICT "
              "(tag, kind) DO UPDATE SET mass_kg = excluded.mass_kg, note = excluded.note, at = excluded.at, "
              "who = excluded.who")
            .with(tag.text(), hazard.kind, hazard.mass_kg, hazard.note, now_utc(), who)
            .run();
        note_change(book, who, tag.text(), "hazard " + hazard.kind, before ? details_of(*before) : "",
                    details_of(hazard), "hazard");
    });
}

void take_back_hazard(Book& book, const number::TagNumber& tag, const std::string& kind,
                      const std::string& who) {
    book.together([&] {
        static_cast<void>(part_or_refusal(book, tag));
        const auto before = hazard_of_kind(book, tag, kind);
        if (!before) {
            throw WrongUse(fmt::format("{} has no hazard \"{}\" to take back", tag.text(), kind));
        }
        Query(book, "DELETE FROM hazard WHERE tag = ? AND kind = ?").with(tag.text(), kind).run();
        note_change(book, who, tag.text(), "hazard " + kind, details_of(*before), "", "hazard");
    });
}

std::vector<Hazard> hazards_of(const Book& book, const number::TagNumber& tag) {
    Query query(book, "SELECT kind, mass_kg, note, at, who FROM hazard WHERE tag = ?");
    query.with(tag.text());
    std::vector<Hazard> hazards;
    while (query.next()) {
        hazards.push_back({query.text(0), query.maybe_real(1), query.text(2), query.text(3), query.text(4)});
    }
    std::sort(hazards.begin(), hazards.end(),
              [](const Hazard& a, const Hazard& b) { return place_of(a.kind) < place_of(b.kind); });
    return hazards;
}

std::string hazard_words(const Hazard& hazard) {
    std::string words = hazard.kind;
    if (hazard.mass_kg) {
        words += fmt::format(", {} kg", number_text(*hazard.mass_kg));
    }
    return hazard.note.empty() ? words : words + ": " + hazard.note;
}

std::vector<std::string> bare_cautions_for(const std::vector<Hazard>& hazards) {
    std::vector<std::string> lines;
    for (const auto& hazard : hazards) {
        std::string line = hazard_words(hazard);
        line[0] = static_cast<char>(line[0] - 'a' + 'A');
        const bool ends = line.find_last_of(".!") == line.size() - 1;
        std::string caution = cautions.at(place_of(hazard.kind));
        if (hazard.note.empty()) {
            lines.push_back(line + ": " + caution);
        } else {
            caution[0] = static_cast<char>(caution[0] - 'a' + 'A');
            lines.push_back(line + (ends ? " " : ". ") + caution);
        }
    }
    return lines;
}

std::vector<std::string> cautions_for(const std::vector<Hazard>& hazards) {
    auto lines = bare_cautions_for(hazards);
    if (!lines.empty()) {
        lines.emplace_back("Local codes and licensed practice come before these lines.");
    }
    return lines;
}

std::vector<std::string> cautions_for(const Book& book, const number::TagNumber& tag) {
    return cautions_for(hazards_of(book, tag));
}

}  // namespace stripbook::book
