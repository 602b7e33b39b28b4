#include "book/move_tag.h"

#include <fmt/format.h>

#include <vector>

#include "book/clock.h"
#include "book/history.h"
#include "book/parts.h"
#include "book/sql_access.h"
#include "book/tag_meanings.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* how = "tag moved";

struct TagMove {
    number::TagNumber tag;
    number::TagNumber from;  ///< what it meant until then
    number::TagNumber to;
};

TagMove planned(const Book& book, const number::TagNumber& tag, const number::TagNumber& to, double from_s) {
    const auto meanings = tag_meanings(book);
    const auto* meaning = meaning_at(meanings, tag, from_s);
    const number::TagNumber from = meaning == nullptr ? tag : meaning->part;
    static_cast<void>(part_or_refusal(book, from));
    static_cast<void>(part_or_refusal(book, to));
    if (from == to) {
        throw WrongUse(fmt::format("the tag {} means {} then already", tag.text(), to.text()));
    }
    return {tag, from, to};
}

// Entries about that day or later; one that corrects an earlier entry stays with it.
std::vector<std::int64_t> entries_since(const Book& book, const number::TagNumber& part,
                                        const std::string& day) {
    Query query(book,
                "SELECT number FROM inspection WHERE tag = ?1 AND on_day >= ?2 AND (corrects IS NULL OR "
                "corrects IN (SELECT number FROM inspection WHERE tag = ?1 AND on_day >= ?2)) ORDER BY "
                "number");
    query.with(part.text(), day);
    std::vector<std::int64_t> numbers;
    while (query.next()) {
        numbers.push_back(query.whole(0));
    }
    return numbers;
}

struct Stage {
    std::string day, stage, who, at;
};

std::vector<Stage> take_stages_since(Book& book, const number::TagNumber& part, const std::string& day) {
    std::vector<Stage> stages;
    Query query(book, "SELECT from_date, stage, who, at FROM part_stage WHERE tag = ? AND from_date >= ?");
    query.with(part.text(), day);
    while (query.next()) {
        stages.push_back({query.text(0), query.text(1), query.text(2), query.text(3)});
    }
    Query(book, "DELETE FROM part_stage WHERE tag = ? AND from_date >= ?").with(part.text(), day).run();
    return stages;
}

void carry_out(Book& book, const std::vector<TagMove>& moves, double from_s, const std::string& who) {
    const std::string when = time_words(from_s).value_or("");
    constexpr std::size_t to_days = 10;
    const std::string day = when.substr(0, to_days);
    // All is taken off before anything is put on: two tags may change places.
    std::vector<std::vector<std::int64_t>> entries;
    std::vector<std::vector<Stage>> stages;
    for (const auto& move : moves) {
        entries.push_back(entries_since(book, move.from, day));
        stages.push_back(take_stages_since(book, move.from, day));
    }
    for (std::size_t i = 0; i < moves.size(); ++i) {
        const TagMove& move = moves[i];
        for (const auto number : entries[i]) {
            Query(book, "UPDATE inspection SET tag = ? WHERE number = ?").with(move.to.text(), number).run();
        }
        for (const auto& s : stages[i]) {
            Query(book,
                  "INSERT OR IGNORE INTO part_stage (tag, from_date, stage, who, at) VALUES (?, ?, ?, ?, ?)")
                .with(move.to.text(), s.day, s.stage, s.who, s.at)
                .run();
        }
        for (const auto& part : {move.from, move.to}) {
            Query(book, "INSERT OR IGNORE INTO word_index_due VALUES (?)").with(part.text()).run();
        }
        set_tag_meaning(book, {move.tag, from_s, move.to}, who);
        const std::string since = fmt::format("the tag {} since {}", move.tag.text(), when);
        note_change(book, who, move.from.text(), "tag", since, "hangs on " + move.to.text(), how);
        note_change(book, who, move.to.text(), "tag", "", since, how);
        if (!entries[i].empty()) {
            note_change(book, who, move.to.text(), "inspection", "",
                        fmt::format("{} entries of {} or later came from {}", entries[i].size(), day,
                                    move.from.text()),
                        how);
        }
    }
}

}  // namespace

void move_tag(Book& book, const number::TagNumber& tag, const number::TagNumber& to, double from_s,
              const std::string& who) {
    book.together([&] { carry_out(book, {planned(book, tag, to, from_s)}, from_s, who); });
}

void swap_tags(Book& book, const number::TagNumber& one, const number::TagNumber& other, double from_s,
               const std::string& who) {
    book.together([&] {
        carry_out(book, {planned(book, one, other, from_s), planned(book, other, one, from_s)}, from_s, who);
    });
}

}  // namespace stripbook::book
