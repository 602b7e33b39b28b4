#include "book/part_stages.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdio>

#include "book/clock.h"
#include "book/history.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "errors.h"

namespace stripbook::book {

namespace {

void check_date(const std::string& text) {
    int year = 0;
    unsigned month = 0;
    unsigned day = 0;
    char rest = 0;
    const bool shaped = text.size() == 10 && text.find_first_not_of("0123456789-") == std::string::npos &&
                        std::sscanf(text.c_str(), "%4d-%2u-%2u%c", &year, &month, &day, &rest) == 3;
    const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(month),
                                           std::chrono::day(day)};
    if (!shaped || !date.ok()) {
        throw WrongUse(fmt::format("\"{}\" is not a date; write it as 2026-04-02", printable_name(text)));
    }
}

void check_stage(const std::string& stage) {
    if (!stage.empty() && std::find(stage_words.begin(), stage_words.end(), stage) == stage_words.end()) {
        throw WrongUse(fmt::format("\"{}\" is not a stage: there are {}", printable_name(stage),
                                   fmt::join(stage_words, ", ")));
    }
}

std::string stage_said(const Book& book, const number::TagNumber& tag, const std::string& from_date) {
    Query query(book, "SELECT stage FROM part_stage WHERE tag = ? AND from_date = ?");
    query.with(tag.text(), from_date);
    return query.next() ? query.text(0) : "";
}

}  // namespace

std::vector<PartStage> part_stages(const Book& book, const number::TagNumber& tag) {
    std::vector<PartStage> stages;
    Query query(book, "SELECT from_date, stage, who FROM part_stage WHERE tag = ? ORDER BY from_date");
    query.with(tag.text());
    while (query.next()) {
        stages.push_back({query.text(0), query.text(1), query.text(2)});
    }
    return stages;
}

void set_part_stage(Book& book, const number::TagNumber& tag, const std::string& from_date,
                    const std::string& stage, const std::string& who) {
    check_date(from_date);
    check_stage(stage);
    book.together([&] {
        if (!Query(book, "SELECT 1 FROM part WHERE tag = ?").with(tag.text()).next()) {
            throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
        }
        const std::string before = stage_said(book, tag, from_date);
        if (before == stage) {
            return;
        }
        Query(book, "DELETE FROM part_stage WHERE tag = ? AND from_date = ?")
            .with(tag.text(), from_date)
            .run();
        if (!stage.empty()) {
            Query(book, "INSERT INTO part_stage VALUES (?, ?, ?, ?, ?)")
                .with(tag.text(), from_date, stage, printable_name(who), now_utc())
                .run();
        }
        note_change(book, who, tag.text(), "stage from " + from_date, before, stage, "a person's word");
    });
}

}  // namespace stripbook::book
