#include "book/marker_sheets.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "book/clock.h"
#include "book/history.h"
#include "book/number_text.h"
#include "book/sql_access.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr int highest_sheet = 9999;

std::string stored_outer(const std::optional<number::OuterMeasured>& outer) {
    nlohmann::json list = nlohmann::json::array();
    if (outer) {
        list = {outer->top, outer->right, outer->bottom, outer->left, outer->falling, outer->rising};
    }
    return list.dump();
}

std::optional<number::OuterMeasured> outer_from_stored(const std::string& text) {
    constexpr std::size_t lengths = 6;
    const auto list = nlohmann::json::parse(text, nullptr, false);
    if (!list.is_array() || (!list.empty() && list.size() != lengths)) {
        throw BookError("the book holds a scale marker's measuring that cannot be read; run stripbook check");
    }
    if (list.empty()) {
        return std::nullopt;
    }
    const auto at = [&list](std::size_t i) { return list[i].is_number() ? list[i].get<double>() : 0.0; };
    return number::OuterMeasured{at(0), at(1), at(2), at(3), at(4), at(5)};
}

std::optional<MarkerCheck> last_check(const Book& book, const std::string& kind, int number) {
    Query query(book,
                "SELECT across_mm, along_mm, outer_mm, line_u_mm, at, who FROM marker_check WHERE kind = ? "
                "AND number = ? "
                "ORDER BY id DESC LIMIT 1");
    query.with(kind, number);
    if (!query.next()) {
        return std::nullopt;
    }
    return MarkerCheck{{query.real(0), query.real(1), outer_from_stored(query.text(2)), query.real(3)},
                       query.text(4),
                       query.text(5)};
}

int highest_number(const Book& book, const std::string& kind) {
    Query query(book, "SELECT coalesce(max(number), 0) FROM marker_sheet WHERE kind = ?");
    query.with(kind);
    query.next();
    return query.small(0);
}

std::string sheet_words(const std::string& kind, int number) {
    return number::marker_sheet_text(number::marker_layout(kind), number);
}

MarkerSheet add_sheet(Book& book, MarkerSheet sheet, const std::string& how) {
    sheet.at = now_utc();
    Query(book, "INSERT INTO marker_sheet (kind, number, pieces, at, who) VALUES (?, ?, ?, ?, ?)")
        .with(sheet.kind, sheet.number, sheet.pieces, sheet.at, sheet.who)
        .run();
    note_change(book, sheet.who, sheet_words(sheet.kind, sheet.number), "sheet", "", "in use", how);
    return sheet;
}

void check_there_is(const Book& book, const std::string& kind, int number) {
    Query query(book, "SELECT 1 FROM marker_sheet WHERE kind = ? AND number = ?");
    query.with(kind, number);
    if (!query.next()) {
        throw BookError(
            fmt::format("the book has no sheet {}: a fault of the program", sheet_words(kind, number)));
    }
}

std::string words_of(const number::SheetMeasured& measured) {
    std::string words = fmt::format("{} mm across, {} mm along", number_text(measured.across_mm),
                                    number_text(measured.along_mm));
    if (measured.outer) {
        words += fmt::format("; outer {}", stored_outer(measured.outer));
    }
    return words;
}

}  // namespace

std::vector<MarkerSheet> marker_sheets(const Book& book) {
    std::vector<MarkerSheet> sheets;
    Query query(book,
                "SELECT kind, number, pieces, at, who, retired_at FROM marker_sheet ORDER BY kind, number");
    while (query.next()) {
        MarkerSheet sheet{query.text(0), query.small(1),    query.small(2), query.text(3),
                          query.text(4), !query.is_null(5), std::nullopt};
        sheet.check = last_check(book, sheet.kind, sheet.number);
        sheets.push_back(std::move(sheet));
    }
    return sheets;
}

std::vector<MarkerSheet> add_marker_sheets(Book& book, const std::string& kind, int count, int pieces,
                                           const std::string& who) {
    std::vector<MarkerSheet> sheets;
    book.together([&] {
        const int first = highest_number(book, kind) + 1;
        if (first + count - 1 > highest_sheet) {
            throw WrongUse(fmt::format("the numbers of {} sheets end at {}: only {} are left", kind,
                                       highest_sheet, highest_sheet - first + 1));
        }
        for (int i = 0; i < count; ++i) {
            sheets.push_back(
                add_sheet(book, {kind, first + i, pieces, "", who, false, std::nullopt}, "markers"));
        }
    });
    return sheets;
}

MarkerSheet add_foreign_sheet(Book& book, const std::string& kind, int number, const std::string& who) {
    MarkerSheet sheet{kind, number, 1, "", who, false, std::nullopt};
    book.together([&] {
        for (const auto& known : marker_sheets(book)) {
            if (known.kind == kind && known.number == number) {
                throw WrongUse(fmt::format("this book has a sheet {} of its own; leave --from-elsewhere away",
                                           sheet_words(kind, number)));
            }
        }
        sheet = add_sheet(book, sheet, "printed elsewhere");
    });
    return sheet;
}

void take_back_marker_sheets(Book& book, const std::vector<MarkerSheet>& sheets) {
    book.together([&] {
        for (const auto& sheet : sheets) {
            Query(book, "DELETE FROM marker_sheet WHERE kind = ? AND number = ?")
                .with(sheet.kind, sheet.number)
                .run();
            note_change(book, sheet.who, sheet_words(sheet.kind, sheet.number), "sheet", "in use", "",
                        "markers: the file was not written");
        }
    });
}

void save_marker_check(Book& book, const std::string& kind, int number, const number::SheetMeasured& measured,
                       const std::string& who) {
    book.together([&] {
        check_there_is(book, kind, number);
        const auto before = last_check(book, kind, number);
        if (before && before->measured == measured) {
            return;
        }
        Query(book,
              "INSERT INTO marker_check (kind, number, across_mm, along_mm, outer_mm, line_u_mm, at, "
              "who) VALUES (?, ?, ?, ?, ?, ?, ?, ?)")
            .with(kind, number, measured.across_mm, measured.along_mm, stored_outer(measured.outer),
                  measured.line_u_mm, now_utc(), who)
            .run();
        note_change(book, who, sheet_words(kind, number), "measured",
                    before ? words_of(before->measured) : "", words_of(measured), "markers measured");
    });
}

void retire_marker_sheet(Book& book, const std::string& kind, int number, const std::string& who) {
    book.together([&] {
        check_there_is(book, kind, number);
        const int changed = Query(book,
                                  "UPDATE marker_sheet SET retired_at = ? WHERE kind = ? AND number = ? AND "
                                  "retired_at IS NULL")
                                .with(now_utc(), kind, number)
                                .run();
        if (changed > 0) {
            note_change(book, who, sheet_words(kind, number), "sheet", "in use", "retired",
                        "markers retired");
        }
    });
}

}  // namespace stripbook::book
