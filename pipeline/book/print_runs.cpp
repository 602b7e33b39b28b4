#include "book/print_runs.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/clock.h"
#include "book/history.h"
#include "book/parts.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

using number::TagNumber;

TagSize size_from_stored(const std::string& text) {
    return text == "small" ? TagSize::small : TagSize::large;
}

std::set<int> used_serials(const Book& book) {
    std::set<int> used;
    for (const auto& part : all_parts(book)) {
        used.insert(part.tag.serial());
    }
    for (const auto& tag : printed_numbers(book)) {
        used.insert(tag.serial());
    }
    return used;
}

std::optional<std::string> printed_first_at(const Book& book, const TagNumber& tag) {
    Query query(book,
                "SELECT at FROM printed_tag JOIN print_run ON print_run.id = printed_tag.run WHERE tag = ? "
                "ORDER BY run LIMIT 1");
    query.with(tag.text());
    return query.next() ? std::optional(query.text(0)) : std::nullopt;
}

void check_order(const Book& book, const PrintOrder& order) {
    if (order.tags.empty()) {
        throw WrongUse("there is no tag to print");
    }
    check_typed_text(order.again, "reason for printing again");
    std::set<TagNumber> seen;
    for (const auto& tag : order.tags) {
        if (tag.book() != book.code()) {
            throw WrongUse(fmt::format("{} belongs to book {}, this is book {}: print it from its own book",
                                       tag.text(), tag.book().text(), book.code().text()));
        }
        if (!seen.insert(tag).second) {
            throw WrongUse(fmt::format("{} is named twice: name each tag once", tag.text()));
        }
        const auto before = order.again.empty() ? printed_first_at(book, tag) : std::nullopt;
        if (before) {
            throw WrongUse(
                fmt::format("{} was printed already, at {}; two tags of one number mix parts up. "
                            "If the first is lost or destroyed, say so with --again \"lost\"",
                            tag.text(), *before));
        }
    }
}

void add_printed_tag(Book& book, PrintRunId run, const TagNumber& tag, const PrintOrder& order,
                     const std::string& who) {
    // The reason belongs only to numbers that really were printed before.
    const std::string again = printed_first_at(book, tag) ? order.again : "";
    Query(book, "INSERT INTO printed_tag VALUES (?, ?, ?)").with(run.value, tag.text(), again).run();
    note_change(book, who, tag.text(), "printed tag", "",
                fmt::format("{}, print run {}{}", size_word(order.size), run.value,
                            again.empty() ? "" : ", again: " + again),
                "tags");
}

}  // namespace

const char* size_word(TagSize size) {
    return size == TagSize::small ? "small" : "large";
}

std::vector<TagNumber> free_numbers(const Book& book, int count, int from) {
    const std::set<int> used = used_serials(book);
    std::vector<TagNumber> numbers;
    const int first = from > 0 ? from : used.empty() ? 1 : *used.rbegin() + 1;
    for (int serial = first;
         serial <= number::highest_serial && numbers.size() < static_cast<std::size_t>(count); ++serial) {
        if (used.count(serial) == 0) {
            numbers.emplace_back(book.code(), serial);
        }
    }
    if (numbers.size() < static_cast<std::size_t>(count)) {
        throw WrongUse(fmt::format(
            "only {} free numbers are left from {} to {}: ask for fewer, or begin at an unused stretch with "
            "--from; numbers are never used again, so a full series needs a new book code",
            numbers.size(), first, number::highest_serial));
    }
    return numbers;
}

PrintRun add_print_run(Book& book, const PrintOrder& order, const std::string& who) {
    PrintRun run{{}, now_utc(), who, order};
    book.together([&] {
        check_order(book, order);
        Query(book, "INSERT INTO print_run (at, who, size, paper, fold) VALUES (?, ?, ?, ?, ?)")
            .with(run.at, who, size_word(order.size), order.paper, order.fold)
            .run();
        run.id = {last_row_number(book)};
        for (const auto& tag : order.tags) {
            add_printed_tag(book, run.id, tag, order, who);
        }
    });
    return run;
}

void take_back_print_run(Book& book, PrintRunId run, const std::string& who) {
    book.together([&] {
        Query query(book, "SELECT tag FROM printed_tag WHERE run = ?");
        query.with(run.value);
        while (query.next()) {
            note_change(book, who, query.text(0), "printed tag", fmt::format("print run {}", run.value), "",
                        "tags: the file was not written");
        }
        Query(book, "DELETE FROM printed_tag WHERE run = ?").with(run.value).run();
        Query(book, "DELETE FROM print_run WHERE id = ?").with(run.value).run();
    });
}

std::vector<PrintRun> print_runs(const Book& book) {
    std::vector<PrintRun> runs;
    Query query(book, "SELECT id, at, who, size, paper, fold FROM print_run ORDER BY id");
    while (query.next()) {
        PrintRun run{{query.whole(0)}, query.text(1), query.text(2), {}};
        run.order.size = size_from_stored(query.text(3));
        run.order.paper = query.text(4);
        run.order.fold = query.yes(5);
        Query tags(book, "SELECT tag, again FROM printed_tag WHERE run = ? ORDER BY tag");
        tags.with(run.id.value);
        while (tags.next()) {
            run.order.tags.push_back(tag_from_stored(tags.text(0)));
            run.order.again = std::max(run.order.again, tags.text(1));
        }
        runs.push_back(run);
    }
    return runs;
}

std::set<TagNumber> printed_numbers(const Book& book) {
    std::set<TagNumber> numbers;
    Query query(book, "SELECT DISTINCT tag FROM printed_tag");
    while (query.next()) {
        numbers.insert(tag_from_stored(query.text(0)));
    }
    return numbers;
}

}  // namespace stripbook::book
