#include "book/acts.h"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <set>

#include "book/changeset.h"
#include "book/history.h"
#include "book/paths.h"
#include "book/records.h"
#include "book/sql_access.h"
#include "book/unsettled_groups.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* program = "stripbook";

std::string quoted(const std::string& text) {
    return text.empty() ? "empty" : fmt::format("\"{}\"", printable_name(text));
}

std::string spaced(std::string column) {
    std::replace(column.begin(), column.end(), '_', ' ');
    return column;
}

std::string record_words(const Obstacle& obstacle) {
    const auto kind = obstacle.table == "part"          ? "record"
                      : obstacle.table == "person_word" ? "links that were said"
                                                        : spaced(obstacle.table);
    return printable_name(obstacle.record) + " (" + kind + ")";
}

std::string obstacle_words(const Obstacle& obstacle) {
    if (!obstacle.field.empty()) {
        return fmt::format("{}: {} is {} now, not {} any more", record_words(obstacle),
                           spaced(obstacle.field), quoted(obstacle.is), quoted(obstacle.was));
    }
    return record_words(obstacle) + (obstacle.is_gone ? " is gone" : " rests on it or is there again");
}

// "; last changed by Ben on 2026-11-26 (store)"
std::string last_changed(const Book& book, const Obstacle& obstacle, const Act& act) {
    Query query(book, "SELECT who, at, how FROM history WHERE what = ? AND id > ? ORDER BY id DESC LIMIT 1");
    if (!query.with(obstacle.record, act.last_change).next()) {
        return "";
    }
    return fmt::format(" (by {} on {}: {})", printable_name(query.text(0)), query.text(1).substr(0, 10),
                       printable_name(query.text(2)));
}

[[noreturn]] void refuse(const Book& book, const Act& act, const std::vector<Obstacle>& obstacles) {
    constexpr std::size_t named = 3;
    std::set<std::string> said;
    std::vector<std::string> words;
    for (const auto& obstacle : obstacles) {
        const std::string one = obstacle_words(obstacle) + last_changed(book, obstacle, act);
        if (said.insert(one).second && words.size() < named) {
            words.push_back(one);
        }
    }
    const std::string more =
        said.size() > named ? fmt::format(", and {} more", said.size() - named) : std::string();
    throw WrongUse(
        fmt::format("act {} ({}) cannot be taken back, since something came after it: {}{}; take "
                    "that back first (stripbook undo --list); nothing was changed",
                    act.number, act.command, fmt::join(words, "; "), more));
}

// They can be measured again, of whatever part the photo belongs to then.
void drop_computed_measurements(Book& book, const std::string& tag) {
    const std::string those = "(SELECT id FROM measurement WHERE by_hand = 0 AND tag = ?)";
    for (const std::string& sql :
         {"UPDATE measurement SET superseded_by = NULL WHERE superseded_by IN " + those,
          "DELETE FROM dimension WHERE measurement IN " + those,
          "DELETE FROM measurement WHERE id IN " + those}) {
        Query(book, sql).with(tag).run();
    }
}

// The program's links to a part that goes; linking anew makes those that are still seen.
void drop_program_links(Book& book, const std::string& tag) {
    std::vector<std::int64_t> photos;
    {
        Query query(book, "SELECT photo FROM program_link WHERE tag = ?");
        query.with(tag);
        while (query.next()) {
            photos.push_back(query.whole(0));
        }
    }
    for (const auto photo : photos) {
        note_change(book, program, PhotoNumber{photo}.text(), "link", tag, "", "its part was taken back");
    }
    Query(book, "DELETE FROM program_link WHERE tag = ?").with(tag).run();
}

// An entry of an inspection is never deleted but by this; the history keeps its words.
class InspectionTrigger {
  public:
    explicit InspectionTrigger(const Book& book) : book_(book) {
        Query query(book, std::string("SELECT sql FROM sqlite_schema WHERE type = 'trigger' AND name = ?"));
        sql_ = query.with(name).next() ? query.text(0) : "";
    }
    void take_off() const { Query(book_, fmt::format("DROP TRIGGER IF EXISTS {}", name)).run(); }
    void put_back() const {
        if (!sql_.empty()) {
            Query(book_, sql_).run();
        }
    }

  private:
    static constexpr const char* name = "inspection_is_not_deleted";
    const Book& book_;
    std::string sql_;
};

// Groups are the program's, but what a person decided of one is taken back with the rest.
void turn_back_group(Book& book, const Change& change) {
    constexpr std::size_t behind_word = 6;  // "group "
    if (change.field != "decision" || change.what.rfind("group ", 0) != 0) {
        return;
    }
    const GroupNumber number{std::stoll(change.what.substr(behind_word))};
    if (change.after.empty()) {
        Query(book,
              "UPDATE unsettled_group SET state = 'settled', decision = ?, ended_at = ?, ended_by = ? "
              "WHERE number = ?")
            .with(change.before, change.at, change.who, number.value)
            .run();
    } else {
        Query(book,
              "UPDATE unsettled_group SET state = 'open', decision = '', ended_at = NULL, ended_by = '' "
              "WHERE number = ? AND state IN ('settled', 'apart')")
            .with(number.value)
            .run();
    }
}

void turn_back_rows(Book& book, const Act& act) {
    std::string changeset;
    {
        Query query(book, "SELECT changeset FROM act WHERE id = ?");
        if (!query.with(act.number).next()) {
            throw WrongUse(
                fmt::format("there is no act {} to take back: see stripbook undo --list", act.number));
        }
        changeset = query.text(0);
    }
    const std::string back = inverted(book, changeset);
    for (const auto& tag : parts_deleted_by(book, back)) {
        drop_program_links(book, tag);
        drop_computed_measurements(book, tag);
        Query(book, "INSERT OR IGNORE INTO word_index_due VALUES (?)").with(tag).run();
    }
    const InspectionTrigger trigger(book);
    trigger.take_off();
    const auto obstacles = apply_changeset(book, back);
    if (!obstacles.empty()) {
        refuse(book, act, obstacles);
    }
    trigger.put_back();
}

}  // namespace

std::vector<Act> acts(const Book& book) {
    Query query(
        book,
        "SELECT id, at, who, command, first_change, last_change, (SELECT count(*) FROM history AS h WHERE "
        "h.id BETWEEN first_change AND last_change AND h.who <> 'stripbook') FROM act ORDER BY id DESC");
    std::vector<Act> list;
    while (query.next()) {
        list.push_back({query.whole(0), query.text(1), query.text(2), query.text(3), query.whole(4),
                        query.whole(5), query.whole(6)});
    }
    return list;
}

std::vector<std::string> not_to_be_undone_since(const Book& book, const Act& act) {
    std::vector<std::string> words;
    Query cards(
        book,
        "SELECT id, card_words FROM dump WHERE id > (SELECT last_dump FROM act WHERE id = ?) ORDER BY id");
    cards.with(act.number);
    while (cards.next()) {
        words.push_back(
            fmt::format("the card {} was taken in (dump {})", printable_name(cards.text(1)), cards.whole(0)));
    }
    Query runs(
        book,
        "SELECT id FROM print_run WHERE id > (SELECT last_print_run FROM act WHERE id = ?) ORDER BY id");
    runs.with(act.number);
    while (runs.next()) {
        words.push_back(fmt::format("tags were printed (print run {})", runs.whole(0)));
    }
    return words;
}

std::vector<Change> changes_of(const Book& book, const Act& act) {
    Query query(
        book,
        "SELECT at, who, what, field, before, after, how FROM history WHERE id BETWEEN ? AND ? AND who "
        "<> 'stripbook' ORDER BY id");
    query.with(act.first_change, act.last_change);
    std::vector<Change> changes;
    while (query.next()) {
        changes.push_back({query.text(0), query.text(1), query.text(2), query.text(3), query.text(4),
                           query.text(5), query.text(6)});
    }
    return changes;
}

void take_back(Book& book, const Act& act, const std::string& who) {
    book.together([&] {
        auto changes = changes_of(book, act);
        turn_back_rows(book, act);
        std::reverse(changes.begin(), changes.end());
        for (const auto& change : changes) {
            turn_back_group(book, change);
            note_change(book, who, change.what, change.field, change.after, change.before,
                        undone_words + act.command);
        }
        Query(book, "DELETE FROM act WHERE id = ?").with(act.number).run();
    });
}

}  // namespace stripbook::book
