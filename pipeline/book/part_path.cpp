#include "book/part_path.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/clock.h"
#include "book/history.h"
#include "book/part_fields.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "book/utf8.h"
#include "errors.h"
#include "number/money.h"

namespace stripbook::book {

namespace {

using number::TagNumber;

// A detail of a path: what the history calls it, and which paths take it.
struct Detail {
    const char* name;
    const std::optional<std::string> PathChange::*change;
    std::string PathRecord::*record;
    bool buy, repair, make;
};

const std::array<Detail, 5> details{
    {{"from whom", &PathChange::from_whom, &PathRecord::from_whom, true, true, true},
     {"ordered", &PathChange::ordered_on, &PathRecord::ordered_on, true, true, true},
     {"received", &PathChange::received_on, &PathRecord::received_on, true, true, true},
     {"drawing", &PathChange::drawing, &PathRecord::drawing, false, false, true},
     {"material", &PathChange::material, &PathRecord::material, false, false, true}}};

bool takes(const std::string& path, const Detail& detail) {
    return (path == "buy" && detail.buy) || (path == "repair" && detail.repair) ||
           (path == "make" && detail.make);
}

void check_details(const std::string& path, const PathChange& change) {
    for (const auto& detail : details) {
        const auto& value = change.*(detail.change);
        if (value) {
            check_typed_text(*value, detail.name);
        }
        if (value && !takes(path, detail)) {
            throw WrongUse(fmt::format("\"{}\" belongs to the path {}, and this part's path is {}",
                                       detail.name, detail.buy ? "buy, repair or make" : "make", path));
        }
    }
    if (change.price_cents && path != "buy" && path != "repair" && path != "make") {
        throw WrongUse(
            fmt::format("a price belongs to buy, repair or make, and this part's path is {}", path));
    }
    check_typed_text(change.why.value_or(""), "reason");
    check_typed_text(change.by, "name");
}

std::string price_text(const std::optional<std::int64_t>& cents) {
    return cents ? number::money_text(*cents, "") : "";
}

// What the record becomes, with its lines for the history.
PathRecord changed_record(PathRecord record, const PathChange& change, std::vector<CellChange>& changes) {
    const auto note = [&changes](const std::string& field, const std::string& before,
                                 const std::string& after) {
        if (before != after) {
            changes.push_back({"path: " + field, before, after});
        }
    };
    if (change.why) {
        note("why", record.why, *change.why);
        record.why = *change.why;
    }
    for (const auto& detail : details) {
        if (const auto& value = change.*(detail.change)) {
            note(detail.name, record.*(detail.record), *value);
            record.*(detail.record) = *value;
        }
    }
    if (change.price_cents) {
        note("price", price_text(record.price_cents), price_text(change.price_cents));
        record.price_cents = change.price_cents;
    }
    return record;
}

void check_order_of_days(const PathRecord& record) {
    const bool both = !record.ordered_on.empty() && !record.received_on.empty();
    if (both && record.received_on < record.ordered_on) {
        throw WrongUse(fmt::format("received on {} is before ordered on {}: look at the two days again",
                                   record.received_on, record.ordered_on));
    }
}

void write_record(Book& book, const TagNumber& tag, const std::string& path, const PathRecord& record) {
    Query(
        book,
        "INSERT OR REPLACE INTO part_path (tag, path, why, by_whom, at, from_whom, price_cents, ordered_on, "
        "received_on, drawing, material) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
        .with(tag.text(), path, record.why, record.by, record.at, record.from_whom, record.price_cents,
              record.ordered_on, record.received_on, record.drawing, record.material)
        .run();
}

void check_hours(const std::optional<double>& hours) {
    constexpr double most_hours = 100'000;
    if (hours && !(*hours >= 0 && *hours <= most_hours)) {
        throw WrongUse(fmt::format("{:g} hours will not do: it must be 0 to 100000", *hours));
    }
}

Work open_work(const Book& book, const TagNumber& tag, std::int64_t number) {
    const auto works = works_of(book, tag);
    const auto found =
        std::find_if(works.begin(), works.end(), [number](const Work& w) { return w.number == number; });
    if (found == works.end()) {
        throw WrongUse(
            fmt::format("{} has no work {}: see stripbook work list {}", tag.text(), number, tag.text()));
    }
    if (!found->is_open()) {
        throw WrongUse(fmt::format("work {} of {} is not open any more: {}", number, tag.text(),
                                   printable_name(words_of(*found))));
    }
    return *found;
}

}  // namespace

void change_path(Book& book, const TagNumber& tag, const PathChange& change, const std::string& who) {
    book.together([&] {
        Part part = part_or_refusal(book, tag);
        const std::string path = change.path.value_or(part.path);
        const bool other = path != part.path;
        if (other && path != "undecided" && (!change.why || change.why->empty())) {
            throw WrongUse(fmt::format("say why {} is to be: --why \"...\"", path));
        }
        PathRecord record = other ? PathRecord{} : path_of(book, tag);
        part.path = path;
        check_part(part);
        check_details(path, change);
        std::vector<CellChange> changes;
        record = changed_record(record, change, changes);
        check_order_of_days(record);
        if (other || change.path || record.at.empty()) {
            record.by = change.by;
            record.at = now_utc();
        }
        save_part(book, part, who, "path");
        write_record(book, tag, path, record);
        for (const auto& cell : changes) {
            note_change(book, who, tag.text(), cell.field, cell.before, cell.after, "path");
        }
    });
}

PathRecord path_of(const Book& book, const TagNumber& tag) {
    Query query(
        book,
        "SELECT why, by_whom, part_path.at, from_whom, price_cents, ordered_on, received_on, drawing, "
        "material FROM part_path JOIN part USING (tag, path) WHERE tag = ?");
    query.with(tag.text());
    PathRecord record;
    if (query.next()) {
        record = {query.text(0), query.text(1), query.text(2), query.text(3), std::nullopt,
                  query.text(5), query.text(6), query.text(7), query.text(8)};
        if (!query.is_null(4)) {
            record.price_cents = query.whole(4);
        }
    }
    return record;
}

std::int64_t add_work(Book& book, const TagNumber& tag, const std::string& work,
                      const std::optional<double>& hours, const std::string& who) {
    check_typed_text(work, "work");
    check_hours(hours);
    if (work.empty()) {
        throw WrongUse("say what is to be done, for example \"bush and ream\"");
    }
    std::int64_t number = 0;
    book.together([&] {
        static_cast<void>(part_or_refusal(book, tag));
        Query(book,
              "INSERT INTO work (tag, work, hours, at, who, done_on, done_by, dropped_why) VALUES (?, ?, "
              "?, ?, ?, '', '', '')")
            .with(tag.text(), work, hours, now_utc(), who)
            .run();
        number = last_row_number(book);
        Work added;
        added.work = work;
        added.hours = hours;
        note_change(book, who, tag.text(), fmt::format("work {}", number), "", words_of(added), "work");
    });
    return number;
}

void end_work(Book& book, const TagNumber& tag, std::int64_t number, const WorkEnd& end,
              const std::string& who) {
    check_typed_text(end.done_by, "name");
    check_typed_text(end.dropped_why, "reason");
    check_hours(end.hours_taken);
    book.together([&] {
        Work work = open_work(book, tag, number);
        const std::string before = words_of(work);
        work.done_on = end.done_on;
        work.done_by = end.done_by;
        work.hours_taken = end.hours_taken;
        work.dropped_why = end.dropped_why;
        Query(book,
              "UPDATE work SET done_on = ?, done_by = ?, hours_taken = ?, dropped_why = ? WHERE number = ?")
            .with(work.done_on, work.done_by, work.hours_taken, work.dropped_why, number)
            .run();
        note_change(book, who, tag.text(), fmt::format("work {}", number), before, words_of(work), "work");
    });
}

std::vector<Work> works_of(const Book& book, const TagNumber& tag) {
    Query query(
        book,
        "SELECT number, work, hours, at, done_on, done_by, hours_taken, dropped_why FROM work WHERE tag "
        "= ? ORDER BY number");
    query.with(tag.text());
    std::vector<Work> works;
    while (query.next()) {
        works.push_back({query.whole(0), query.text(1), query.maybe_real(2), query.text(3), query.text(4),
                         query.text(5), query.maybe_real(6), query.text(7)});
    }
    return works;
}

std::vector<std::string> what_blocks_refitting(const Part& part, const PathRecord& path,
                                               const std::vector<Work>& works) {
    if (part.path == "scrap") {
        return {};
    }
    std::vector<std::string> blocks;
    if (part.path == "undecided") {
        blocks.emplace_back("undecided");
    } else if (part.path == "hold") {
        blocks.emplace_back("on hold");
    }
    for (const auto& work : works) {
        if (work.is_open()) {
            blocks.push_back("work to do: " + words_of(work));
        }
    }
    const bool sent_out = !path.ordered_on.empty();
    const bool has_work = !works.empty();
    if (path.received_on.empty()) {
        if (part.path == "buy") {
            blocks.push_back(sent_out ? "ordered " + path.ordered_on + ", not received" : "not ordered");
        } else if ((part.path == "make" || part.path == "repair") && sent_out) {
            blocks.push_back("sent out " + path.ordered_on + ", not received");
        } else if ((part.path == "make" || part.path == "repair") && !has_work) {
            blocks.push_back(part.path == "make" ? "not made" : "not repaired");
        }
    }
    return blocks;
}

std::string words_of(const Work& work) {
    std::string words = work.work;
    if (work.hours) {
        words += fmt::format(", {:g} h", *work.hours);
    }
    if (!work.dropped_why.empty()) {
        return words + "; dropped: " + work.dropped_why;
    }
    if (!work.done_on.empty()) {
        words += fmt::format("; done {}{}", work.done_on, work.done_by.empty() ? "" : " by " + work.done_by);
        words += work.hours_taken ? fmt::format(" in {:g} h", *work.hours_taken) : "";
    }
    return words;
}

}  // namespace stripbook::book
