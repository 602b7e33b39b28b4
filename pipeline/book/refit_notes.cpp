#include "book/refit_notes.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "book/clock.h"
#include "book/history.h"
#include "book/number_text.h"
#include "book/part_fields.h"
#include "book/parts.h"
#include "book/sql_access.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

using number::TagNumber;

constexpr double thickest_shim_mm = 1000;
constexpr double highest_torque = 1e6;

RefitNoteKind kind_from_stored(const std::string& text) {
    const auto* const kind = std::find_if(refit_note_kinds.begin(), refit_note_kinds.end(),
                                          [&](RefitNoteKind k) { return text == refit_note_kind_words(k); });
    if (kind == refit_note_kinds.end()) {
        throw BookError(fmt::format("the book is damaged: \"{}\" is no kind of refit note", text));
    }
    return *kind;
}

[[noreturn]] void refuse(const TagNumber& tag, RefitNoteKind kind, const std::string& what) {
    throw WrongUse(fmt::format("{}: {}: {}", tag.text(), refit_note_kind_words(kind), what));
}

void check_texts(const TagNumber& tag, const RefitNote& note) {
    for (const auto* text : {&note.words, &note.size, &note.length, &note.place, &note.unit, &note.source}) {
        check_typed_text(*text, fmt::format("{} {}", tag.text(), refit_note_kind_words(note.kind)));
    }
}

void check_shim(const TagNumber& tag, const RefitNote& note) {
    if (note.place.empty()) {
        refuse(tag, note.kind, "say where the shim sits, for example \"left horn\"");
    }
    if (!note.value || !(*note.value > 0 && *note.value <= thickest_shim_mm) || note.unit != "mm") {
        refuse(tag, note.kind, "give its thickness above zero, for example 0.8mm or \"1/32 in\"");
    }
}

void check_torque(const TagNumber& tag, const RefitNote& note) {
    const bool has_unit = note.unit == "N.m" || note.unit == "lbf.ft";
    if (!note.value || !(*note.value > 0 && *note.value <= highest_torque) || !has_unit) {
        refuse(tag, note.kind, "give it above zero with its unit, for example \"70 N.m\" or \"52 lbf.ft\"");
    }
    if (note.source.empty()) {
        refuse(tag, note.kind, "say where the value comes from, for example --source \"works manual p. 12\"");
    }
}

void check_fields_of_kind(const TagNumber& tag, const RefitNote& note) {
    using Kind = RefitNoteKind;
    const Kind kind = note.kind;
    const auto only_of = [&](bool given, bool allowed, const char* field) {
        if (given && !allowed) {
            refuse(tag, kind, fmt::format("{} does not belong to it", field));
        }
    };
    only_of(note.count.has_value(), kind == Kind::shim || kind == Kind::fastener || kind == Kind::always_new,
            "a count");
    only_of(!note.place.empty(), kind == Kind::shim || kind == Kind::fastener, "a place");
    only_of(!note.size.empty(), kind == Kind::fastener || kind == Kind::always_new, "a size");
    only_of(!note.length.empty(), kind == Kind::fastener, "a length");
    only_of(note.value.has_value(), kind == Kind::shim || kind == Kind::torque, "a value");
    if (note.count && (*note.count < 1 || *note.count > highest_quantity)) {
        refuse(tag, kind, fmt::format("a count is 1 to {}, not {}", highest_quantity, *note.count));
    }
}

void check_note(const TagNumber& tag, const RefitNote& note) {
    check_texts(tag, note);
    check_fields_of_kind(tag, note);
    if (note.kind == RefitNoteKind::shim) {
        check_shim(tag, note);
    } else if (note.kind == RefitNoteKind::fastener) {
        if (note.size.empty()) {
            refuse(tag, note.kind, "say its size, for example \"M12 x 50\"");
        }
    } else if (note.words.empty()) {
        refuse(tag, note.kind, "the words are missing");
    }
    if (note.kind == RefitNoteKind::torque) {
        check_torque(tag, note);
    }
}

void check_has_part(const Book& book, const TagNumber& tag) {
    if (!find_part(book, tag)) {
        throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
    }
}

RefitNote note_that_holds(const Book& book, const TagNumber& tag, int number) {
    for (const auto& note : refit_notes(book, tag)) {
        if (note.number == number) {
            return note;
        }
    }
    throw WrongUse(
        fmt::format("{} has no refit note {}: stripbook refit note {} shows them with their numbers",
                    tag.text(), number, tag.serial()));
}

int next_number(const Book& book, const TagNumber& tag) {
    Query query(book, "SELECT coalesce(max(number), 0) + 1 FROM refit_note WHERE tag = ?");
    query.with(tag.text());
    query.next();
    return query.small(0);
}

void write_note(Book& book, const TagNumber& tag, const RefitNote& note) {
    Query(book,
          "INSERT INTO refit_note (tag, number, kind, words, size, length, count, place, value, unit, "
          "source, at, "
          "who) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
        .with(tag.text(), note.number, refit_note_kind_words(note.kind), note.words, note.size, note.length,
              note.count, note.place, note.value, note.unit, note.source, note.at, note.who)
        .run();
}

void end_row(Book& book, const TagNumber& tag, int number, const std::string& who) {
    Query(
        book,
        "UPDATE refit_note SET ended_at = ?, ended_by = ? WHERE tag = ? AND number = ? AND ended_at IS NULL")
        .with(now_utc(), who, tag.text(), number)
        .run();
}

std::string field_words(const RefitNote& note) {
    return fmt::format("{} (refit note {})", refit_note_kind_words(note.kind), note.number);
}

std::string counted_item(const RefitNote& note, const std::string& item) {
    return note.count ? fmt::format("{} of {}", *note.count, item) : item;
}

std::string with_behind(const std::string& text, const char* joint, const std::string& more) {
    return text.empty() || more.empty() ? text + more : text + joint + more;
}

}  // namespace

const char* refit_note_kind_words(RefitNoteKind kind) {
    static constexpr std::array<const char*, 7> words{"match marks", "way round", "shim",      "setting",
                                                      "fastener",    "torque",    "always new"};
    return words.at(static_cast<std::size_t>(kind));
}

std::vector<RefitNote> refit_notes(const Book& book, const TagNumber& tag) {
    std::vector<RefitNote> notes;
    Query query(book,
                "SELECT kind, words, size, length, count, place, value, unit, source, number, at, who FROM "
                "refit_note "
                "WHERE tag = ? AND ended_at IS NULL ORDER BY number");
    query.with(tag.text());
    while (query.next()) {
        RefitNote note;
        note.kind = kind_from_stored(query.text(0));
        note.words = query.text(1);
        note.size = query.text(2);
        note.length = query.text(3);
        note.count = query.maybe_small(4);
        note.place = query.text(5);
        note.value = query.maybe_real(6);
        note.unit = query.text(7);
        note.source = query.text(8);
        note.number = query.small(9);
        note.at = query.text(10);
        note.who = query.text(11);
        notes.push_back(note);
    }
    return notes;
}

std::vector<RefitNote> add_refit_notes(Book& book, const TagNumber& tag, const std::vector<RefitNote>& notes,
                                       const std::string& who) {
    std::vector<RefitNote> added;
    book.together([&] {
        check_has_part(book, tag);
        for (RefitNote note : notes) {
            check_note(tag, note);
            note.number = next_number(book, tag);
            note.at = now_utc();
            note.who = who;
            write_note(book, tag, note);
            note_change(book, who, tag.text(), field_words(note), "", refit_note_words(note), "refit note");
            added.push_back(note);
        }
    });
    return added;
}

RefitNote correct_refit_note(Book& book, const TagNumber& tag, int number, const RefitNote& note,
                             const std::string& who) {
    RefitNote corrected = note;
    book.together([&] {
        check_has_part(book, tag);
        check_note(tag, note);
        const RefitNote before = note_that_holds(book, tag, number);
        if (before.kind != note.kind) {
            throw WrongUse(fmt::format(
                "{}: refit note {} is of the kind \"{}\", not \"{}\": end it, and add another", tag.text(),
                number, refit_note_kind_words(before.kind), refit_note_kind_words(note.kind)));
        }
        end_row(book, tag, number, who);
        corrected.number = number;
        corrected.at = now_utc();
        corrected.who = who;
        write_note(book, tag, corrected);
        note_change(book, who, tag.text(), field_words(corrected), refit_note_words(before),
                    refit_note_words(corrected), "refit note --correct");
    });
    return corrected;
}

void end_refit_note(Book& book, const TagNumber& tag, int number, const std::string& who) {
    book.together([&] {
        check_has_part(book, tag);
        const RefitNote before = note_that_holds(book, tag, number);
        end_row(book, tag, number, who);
        note_change(book, who, tag.text(), field_words(before), refit_note_words(before), "",
                    "refit note --end");
    });
}

std::string refit_note_words(const RefitNote& note) {
    switch (note.kind) {
        case RefitNoteKind::shim:
            return fmt::format("{}: {} mm", with_behind(note.place, ", ", note.words),
                               counted_item(note, number_text(note.value.value_or(0))));
        case RefitNoteKind::fastener:
            return with_behind(counted_item(note, with_behind(note.size, " x ", note.length)), ", ",
                               note.place);
        case RefitNoteKind::torque:
            return fmt::format("{}: {} {} ({})", note.words, number_text(note.value.value_or(0)), note.unit,
                               note.source);
        case RefitNoteKind::always_new:
            return counted_item(note, with_behind(note.words, " ", note.size));
        default:
            return note.words;
    }
}

}  // namespace stripbook::book
