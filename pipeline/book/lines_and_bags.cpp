// The lines of the maker's list, and fasteners in their bags.
#include <fmt/format.h>

#include "book/clock.h"
#include "book/completeness.h"
#include "book/history.h"
#include "book/number_text.h"
#include "book/part_fields.h"
#include "book/parts.h"
#include "book/parts_tree.h"
#include "book/sql_access.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

std::string words_of(const Line& line) {
    std::string words = fmt::format("{} x {}", line.quantity_expected, line.name);
    for (const auto* detail : {&line.maker_number, &line.assembly, &line.source}) {
        words += detail->empty() ? "" : ", " + *detail;
    }
    return words;
}

void check_count(int count) {
    if (count < 0 || count > highest_quantity) {
        throw WrongUse(fmt::format("{} is no count: it must be 0 to {}", count, highest_quantity));
    }
}

Line checked_line(Line line) {
    line.name = without_outer_spaces(line.name);
    line.assembly = assembly_of(assembly_levels(line.assembly));
    check_typed_text(line.name, "name");
    check_typed_text(line.assembly, "assembly");
    check_typed_text(line.maker_number, "maker's number");
    check_typed_text(line.source, "source");
    check_count(line.quantity_expected);
    if (line.name.empty()) {
        throw WrongUse("a line needs the name of the part, for example \"axlebox spring\"");
    }
    return line;
}

std::optional<Line> line_like(const Book& book, const Line& line) {
    for (const auto& known : all_lines(book)) {
        if (in_small_letters(known.name) == in_small_letters(line.name) &&
            in_small_letters(known.assembly) == in_small_letters(line.assembly)) {
            return known;
        }
    }
    return std::nullopt;
}

std::int64_t write_line(Book& book, const Line& line, const std::optional<Line>& before,
                        const std::string& who) {
    if (before && line.quantity_expected == 0) {
        Query(book, "DELETE FROM line WHERE number = ?").with(before->number).run();
        return before->number;
    }
    if (before) {
        Query(book, "UPDATE line SET maker_number = ?, quantity_expected = ?, source = ? WHERE number = ?")
            .with(line.maker_number, line.quantity_expected, line.source, before->number)
            .run();
        return before->number;
    }
    Query(book,
          "INSERT INTO line (name, maker_number, assembly, quantity_expected, source, at, who) VALUES (?, "
          "?, ?, ?, ?, ?, ?)")
        .with(line.name, line.maker_number, line.assembly, line.quantity_expected, line.source, now_utc(),
              who)
        .run();
    return last_row_number(book);
}

}  // namespace

void save_line(Book& book, const Line& typed, const std::string& who) {
    const Line line = checked_line(typed);
    book.together([&] {
        const auto before = line_like(book, line);
        if (!before && line.quantity_expected == 0) {
            throw WrongUse(fmt::format("no line expects \"{}\" there: nothing to take back", line.name));
        }
        const auto number = write_line(book, line, before, who);
        note_change(book, who, fmt::format("line {}", number), "line", before ? words_of(*before) : "",
                    line.quantity_expected == 0 ? "" : words_of(line), "parts expect");
    });
}

std::vector<Line> all_lines(const Book& book) {
    Query query(
        book,
        "SELECT number, name, maker_number, assembly, quantity_expected, source FROM line ORDER BY number");
    std::vector<Line> lines;
    while (query.next()) {
        lines.push_back(
            {query.whole(0), query.text(1), query.text(2), query.text(3), query.small(4), query.text(5)});
    }
    return lines;
}

void set_fasteners(Book& book, const number::TagNumber& tag, const BaggedFasteners& typed,
                   const std::string& who) {
    const std::string size = without_outer_spaces(typed.size);
    check_typed_text(size, "size");
    check_count(typed.count);
    if (size.empty()) {
        throw WrongUse("say which fasteners, for example \"M12 x 40 bolt\"");
    }
    book.together([&] {
        static_cast<void>(part_or_refusal(book, tag));
        std::string before;
        for (const auto& bagged : fasteners_of(book, tag)) {
            before = bagged.size == size ? std::to_string(bagged.count) : before;
        }
        if (typed.count == 0) {
            Query(book, "DELETE FROM bagged_fastener WHERE tag = ? AND size = ?")
                .with(tag.text(), size)
                .run();
        } else {
            Query(book, "INSERT OR REPLACE INTO bagged_fastener (tag, size, count) VALUES (?, ?, ?)")
                .with(tag.text(), size, typed.count)
                .run();
        }
        const std::string after = typed.count == 0 ? "" : std::to_string(typed.count);
        if (before != after) {
            note_change(book, who, tag.text(), "bagged: " + size, before, after, "parts bag");
        }
    });
}

std::vector<BaggedFasteners> fasteners_of(const Book& book, const number::TagNumber& tag) {
    Query query(book, "SELECT size, count FROM bagged_fastener WHERE tag = ? ORDER BY size");
    query.with(tag.text());
    std::vector<BaggedFasteners> fasteners;
    while (query.next()) {
        fasteners.push_back({query.text(0), query.small(1)});
    }
    return fasteners;
}

}  // namespace stripbook::book
