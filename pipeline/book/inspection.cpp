#include "book/inspection.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/clock.h"
#include "book/history.h"
#include "book/number_text.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/photos.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

using number::TagNumber;

// What stands in the table for one entry, whatever its kind.
struct EntryRow {
    std::string tag;
    std::string kind;
    std::string words;
    std::optional<std::int64_t> corrected_by;
};

std::optional<EntryRow> entry_row(const Book& book, std::int64_t number) {
    Query query(book,
                "SELECT tag, kind, words, (SELECT number FROM inspection AS later WHERE later.corrects = "
                "inspection.number) FROM inspection WHERE number = ?");
    query.with(number);
    if (!query.next()) {
        return std::nullopt;
    }
    EntryRow row{query.text(0), query.text(1), query.text(2), std::nullopt};
    if (!query.is_null(3)) {
        row.corrected_by = query.whole(3);
    }
    return row;
}

// The words of the entry that is corrected. `kind` empty: any.
std::string words_corrected(const Book& book, const TagNumber& tag, std::int64_t number,
                            const std::string& kind) {
    const auto row = entry_row(book, number);
    if (!row || row->tag != tag.text() || row->kind == "taken back") {
        throw WrongUse(
            fmt::format("{} has no entry {}: see stripbook inspect {}", tag.text(), number, tag.text()));
    }
    if (!kind.empty() && row->kind != kind) {
        throw WrongUse(fmt::format("entry {} is a {}, not a {}: correct it with a {}", number, row->kind,
                                   kind, row->kind));
    }
    if (row->corrected_by) {
        throw WrongUse(fmt::format("entry {} was corrected by entry {} already: correct that one", number,
                                   *row->corrected_by));
    }
    return row->words;
}

struct NewEntry {
    const TagNumber& tag;
    std::string kind;
    std::string words;
    std::string why;
};

// The part of an entry that all kinds share, and its line in the history.
std::int64_t add_entry(Book& book, const NewEntry& fresh, const InspectionEntry& entry,
                       const std::string& who) {
    static_cast<void>(part_or_refusal(book, fresh.tag));
    check_typed_text(entry.by, "name");
    const bool takes_back = fresh.kind == "taken back";
    const std::string before =
        entry.corrects ? words_corrected(book, fresh.tag, *entry.corrects, takes_back ? "" : fresh.kind) : "";
    Query(
        book,
        "INSERT INTO inspection (tag, kind, words, by_whom, on_day, at, who, corrects, why) VALUES (?, ?, ?, "
        "?, ?, ?, ?, ?, ?)")
        .with(fresh.tag.text(), fresh.kind, fresh.words, entry.by, entry.on, now_utc(), who, entry.corrects,
              fresh.why)
        .run();
    const auto number = last_row_number(book);
    const std::string field = entry.corrects
                                  ? fmt::format("entry {}, which corrects {}", number, *entry.corrects)
                                  : fmt::format("entry {}", number);
    const std::string after = takes_back ? "taken back: " + fresh.why : fresh.words;
    note_change(book, who, fresh.tag.text(), field, before, after, "inspect");
    return number;
}

void check_some_text(const std::string& text, const std::string& what, const std::string& example) {
    check_typed_text(text, what);
    if (without_outer_spaces(text).empty()) {
        throw WrongUse(fmt::format("say the {}, for example {}", what, example));
    }
}

void check_finding(const Book& book, const Finding& finding) {
    if (std::find(finding_kinds.begin(), finding_kinds.end(), finding.kind) == finding_kinds.end()) {
        throw WrongUse(fmt::format("\"{}\" is not a finding: there are {}", printable_name(finding.kind),
                                   fmt::join(finding_kinds, ", ")));
    }
    check_typed_text(finding.where, "where");
    check_typed_text(finding.how_bad, "how bad");
    for (const auto& photo : finding.photos) {
        static_cast<void>(photo_from_typed(book, photo.text()));
    }
}

void check_limit(const GaugeLimit& limit) {
    check_some_text(limit.feature, "feature", "bore");
    check_some_text(limit.source, "source of the limit", "\"works drawing 123\"");
    if (!limit.lower_mm && !limit.upper_mm) {
        throw WrongUse("a limit needs at least one bound: at least, at most, or both");
    }
    if (limit.lower_mm && limit.upper_mm && *limit.lower_mm > *limit.upper_mm) {
        throw WrongUse(fmt::format("no reading can be at least {} and at most {}: change the two",
                                   limit.lower_typed, limit.upper_typed));
    }
}

std::vector<std::string> photo_texts(const std::vector<PhotoNumber>& photos) {
    std::vector<std::string> texts;
    for (const auto& photo : photos) {
        texts.push_back(photo.text());
    }
    return texts;
}

std::vector<PhotoNumber> photos_from(const std::string& stored) {
    std::vector<PhotoNumber> photos;
    for (const auto& text : list_from_stored(stored)) {
        photos.push_back({whole_from(std::string_view(text).substr(1)).value_or(0)});
    }
    return photos;
}

// The first columns of every query below.
constexpr const char* entry_columns =
    "SELECT i.number, i.by_whom, i.on_day, i.at, i.who, i.corrects, later.number, later.why, ";
constexpr const char* of_the_part =
    " AS d JOIN inspection AS i ON i.number = d.entry LEFT JOIN inspection AS later ON later.corrects = "
    "i.number WHERE i.tag = ? ORDER BY i.number";
constexpr int first_own_column = 8;

InspectionEntry entry_of_row(Query& row) {
    InspectionEntry entry;
    entry.number = row.whole(0);
    entry.by = row.text(1);
    entry.on = row.text(2);
    entry.at = row.text(3);
    entry.who = row.text(4);
    if (!row.is_null(5)) {
        entry.corrects = row.whole(5);
    }
    if (!row.is_null(6)) {
        entry.corrected_by = row.whole(6);
        entry.why_corrected = row.text(7);
    }
    return entry;
}

template <typename Entry, typename Fill>
std::vector<Entry> entries_of(const Book& book, const TagNumber& tag, const std::string& table,
                              const std::string& columns, const Fill& fill) {
    Query query(book, entry_columns + columns + " FROM " + table + of_the_part);
    query.with(tag.text());
    std::vector<Entry> entries;
    while (query.next()) {
        Entry entry;
        entry.entry = entry_of_row(query);
        fill(entry, query, first_own_column);
        entries.push_back(std::move(entry));
    }
    return entries;
}

}  // namespace

std::int64_t add_finding(Book& book, const TagNumber& tag, const Finding& finding, const std::string& who) {
    check_finding(book, finding);
    std::int64_t number = 0;
    book.together([&] {
        number = add_entry(book, {tag, "finding", words_of(finding), ""}, finding.entry, who);
        Query(book, "INSERT INTO finding (entry, kind, place, how_bad, photos) VALUES (?, ?, ?, ?, ?)")
            .with(number, finding.kind, finding.where, finding.how_bad,
                  stored_list(photo_texts(finding.photos)))
            .run();
    });
    return number;
}

std::int64_t add_reading(Book& book, const TagNumber& tag, const GaugeReading& reading,
                         const std::string& who) {
    check_some_text(reading.feature, "feature", "bore");
    check_typed_text(reading.spot, "place on the feature");
    check_typed_text(reading.instrument, "instrument");
    std::int64_t number = 0;
    book.together([&] {
        number = add_entry(book, {tag, "reading", words_of(reading), ""}, reading.entry, who);
        Query(
            book,
            "INSERT INTO gauge_reading (entry, feature, spot, value_mm, typed, u_mm, instrument) VALUES (?, "
            "?, ?, ?, ?, ?, ?)")
            .with(number, without_outer_spaces(reading.feature), reading.spot, reading.value_mm,
                  reading.typed, reading.u_mm, without_outer_spaces(reading.instrument))
            .run();
    });
    return number;
}

std::int64_t add_limit(Book& book, const TagNumber& tag, const GaugeLimit& limit, const std::string& who) {
    check_limit(limit);
    std::int64_t number = 0;
    book.together([&] {
        number = add_entry(book, {tag, "limit", words_of(limit), ""}, limit.entry, who);
        Query(book,
              "INSERT INTO gauge_limit (entry, feature, of_spread, lower_mm, upper_mm, lower_typed, "
              "upper_typed, source) VALUES (?, ?, ?, ?, ?, ?, ?, ?)")
            .with(number, without_outer_spaces(limit.feature), limit.of_spread, limit.lower_mm,
                  limit.upper_mm, limit.lower_typed, limit.upper_typed, limit.source)
            .run();
    });
    return number;
}

void take_back_entry(Book& book, const TagNumber& tag, std::int64_t number, const std::string& why,
                     const std::string& who) {
    check_some_text(why, "reason", "--why \"other side measured\"");
    book.together([&] {
        InspectionEntry entry;
        entry.corrects = number;
        add_entry(book, {tag, "taken back", "", why}, entry, who);
    });
}

Inspection inspection_of(const Book& book, const TagNumber& tag) {
    Inspection all;
    all.findings = entries_of<Finding>(book, tag, "finding", "d.kind, d.place, d.how_bad, d.photos",
                                       [](Finding& finding, Query& row, int at) {
                                           finding.kind = row.text(at);
                                           finding.where = row.text(at + 1);
                                           finding.how_bad = row.text(at + 2);
                                           finding.photos = photos_from(row.text(at + 3));
                                       });
    all.readings = entries_of<GaugeReading>(book, tag, "gauge_reading",
                                            "d.feature, d.spot, d.value_mm, d.typed, d.u_mm, d.instrument",
                                            [](GaugeReading& reading, Query& row, int at) {
                                                reading.feature = row.text(at);
                                                reading.spot = row.text(at + 1);
                                                reading.value_mm = row.real(at + 2);
                                                reading.typed = row.text(at + 3);
                                                reading.u_mm = row.maybe_real(at + 4);
                                                reading.instrument = row.text(at + 5);
                                            });
    all.limits = entries_of<GaugeLimit>(
        book, tag, "gauge_limit",
        "d.feature, d.of_spread, d.lower_mm, d.upper_mm, d.lower_typed, d.upper_typed, d.source",
        [](GaugeLimit& limit, Query& row, int at) {
            limit.feature = row.text(at);
            limit.of_spread = row.yes(at + 1);
            limit.lower_mm = row.maybe_real(at + 2);
            limit.upper_mm = row.maybe_real(at + 3);
            limit.lower_typed = row.text(at + 4);
            limit.upper_typed = row.text(at + 5);
            limit.source = row.text(at + 6);
        });
    return all;
}

std::optional<double> last_u_of_instrument(const Book& book, const std::string& instrument) {
    Query query(book,
                "SELECT u_mm FROM gauge_reading WHERE instrument = ? COLLATE NOCASE AND u_mm IS NOT NULL "
                "ORDER BY entry DESC LIMIT 1");
    query.with(without_outer_spaces(instrument));
    return query.next() ? query.maybe_real(0) : std::nullopt;
}

}  // namespace stripbook::book
