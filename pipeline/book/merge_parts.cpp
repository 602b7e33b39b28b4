#include "book/merge_parts.h"

#include <fmt/format.h>

#include <optional>

#include "book/history.h"
#include "book/parts.h"
#include "book/sql_access.h"
#include "book/tag_meanings.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* how = "parts merged";

bool was_taken_from(const Book& book, Part part, const number::TagNumber& from) {
    while (part.parent) {
        if (*part.parent == from) {
            return true;
        }
        part = part_or_refusal(book, *part.parent);
    }
    return false;
}

void check(const Book& book, const Part& kept, const Part& other) {
    if (kept.tag == other.tag) {
        throw WrongUse(
            fmt::format("{} is one part already: name the other tag that hung on it", kept.tag.text()));
    }
    if (was_taken_from(book, kept, other.tag) || was_taken_from(book, other, kept.tag)) {
        throw WrongUse(
            fmt::format("one of {} and {} was taken from the other, so they are two parts; if that is wrong, "
                        "say so first: stripbook parts move TAG --under-nothing",
                        kept.tag.text(), other.tag.text()));
    }
}

// Fills what is blank, and tells what both say.
class Filling {
  public:
    Filling(Part& kept, const Part& other) : kept_(kept), other_(other) {}

    void text(const char* field, std::string Part::*member) {
        fill(field, kept_.*member, other_.*member, (kept_.*member).empty(), (other_.*member).empty(),
             other_.*member);
    }
    template <typename Value>
    void maybe(const char* field, std::optional<Value> Part::*member) {
        const auto& theirs = other_.*member;
        fill(field, kept_.*member, theirs, !(kept_.*member), !theirs,
             theirs ? fmt::format("{}", *theirs) : std::string());
    }
    void path() {
        fill("path", kept_.path, other_.path, kept_.path == "undecided", other_.path == "undecided",
             other_.path);
    }
    std::vector<std::string> take_lost() { return std::move(lost_); }

  private:
    template <typename Value>
    void fill(const char* field, Value& ours, const Value& theirs, bool ours_blank, bool theirs_blank,
              const std::string& words) {
        if (theirs_blank || ours == theirs) {
            return;
        }
        if (ours_blank) {
            ours = theirs;
        } else {
            lost_.push_back(fmt::format("{}: {}", field, words));
        }
    }

    Part& kept_;
    const Part& other_;
    std::vector<std::string> lost_;
};

Part merged_record(const Part& kept, const Part& other, std::vector<std::string>& lost) {
    Part merged = kept;
    Filling filling(merged, other);
    filling.text("name", &Part::name);
    filling.text("assembly", &Part::assembly);
    filling.text("place", &Part::place);
    filling.text("storage", &Part::storage);
    filling.text("condition", &Part::condition);
    filling.text("other tag", &Part::other_tag);
    filling.maybe("quantity expected", &Part::quantity_expected);
    filling.maybe("quantity present", &Part::quantity_present);
    filling.maybe("face height", &Part::face_height_mm);
    filling.path();
    if (!merged.parent) {
        merged.parent = other.parent;
    }
    merged.notes.insert(other.notes.begin(), other.notes.end());
    merged.listed = kept.listed || other.listed;
    lost = filling.take_lost();
    return merged;
}

// Tables whose rows go over as they are.
constexpr const char* simple_tables[] = {"inspection", "work", "measurement"};
// Tables that hold one row of a kind for a part: the kept part's own stands.
constexpr const char* one_row_tables[] = {"person_word", "part_stage", "hazard", "part_path", "refitted"};

void run(Book& book, const std::string& sql, const std::vector<std::string>& values) {
    Query query(book, sql);
    query.with_all(values).run();
}

void move_rows(Book& book, const std::string& kept, const std::string& other, bool path_of_other) {
    for (const char* table : simple_tables) {
        run(book, fmt::format("UPDATE {} SET tag = ? WHERE tag = ?", table), {kept, other});
    }
    if (path_of_other) {
        run(book, "DELETE FROM part_path WHERE tag = ?", {kept});
    }
    for (const char* table : one_row_tables) {
        run(book, fmt::format("UPDATE OR IGNORE {} SET tag = ? WHERE tag = ?", table), {kept, other});
        run(book, fmt::format("DELETE FROM {} WHERE tag = ?", table), {other});
    }
    run(book,
        "INSERT INTO bagged_fastener SELECT ?, size, count FROM bagged_fastener WHERE tag = ? ON CONFLICT "
        "(tag, size) DO UPDATE SET count = count + excluded.count",
        {kept, other});
    run(book, "DELETE FROM bagged_fastener WHERE tag = ?", {other});
    // Their numbers go on after those of the kept part.
    run(book,
        "UPDATE refit_note SET tag = ?1, number = number + (SELECT ifnull(max(number), 0) FROM refit_note "
        "WHERE tag = ?1) WHERE tag = ?2",
        {kept, other});
    for (const char* column : {"first", "second"}) {
        run(book, fmt::format("UPDATE OR IGNORE refit_word SET {0} = ? WHERE {0} = ?", column),
            {kept, other});
        run(book, fmt::format("DELETE FROM refit_word WHERE {} = ?", column), {other});
    }
    run(book, "DELETE FROM refit_word WHERE first = second AND first = ?", {kept});
    run(book, "UPDATE tag_meaning SET part = ? WHERE part = ?", {kept, other});
    run(book, "UPDATE part SET parent = ? WHERE parent = ?", {kept, other});
    run(book, "DELETE FROM program_link WHERE tag = ?", {other});
    run(book, "DELETE FROM part WHERE tag = ?", {other});
    run(book, "INSERT OR IGNORE INTO word_index_due VALUES (?)", {kept});
}

}  // namespace

std::vector<std::string> merge_parts(Book& book, const number::TagNumber& kept_tag,
                                     const number::TagNumber& other_tag, const std::string& who) {
    std::vector<std::string> lost;
    book.together([&] {
        const Part kept = part_or_refusal(book, kept_tag);
        const Part other = part_or_refusal(book, other_tag);
        check(book, kept, other);
        const Part merged = merged_record(kept, other, lost);
        move_rows(book, kept_tag.text(), other_tag.text(), merged.path != kept.path);
        save_part(book, merged, who, how);
        set_tag_meaning(book, {other_tag, since_ever, kept_tag}, who);
        note_change(book, who, kept_tag.text(), "merged", "", other_tag.text() + " is the same part", how);
        note_change(book, who, other_tag.text(), "merged", "", "one part with " + kept_tag.text(), how);
        for (const auto& words : lost) {
            note_change(book, who, kept_tag.text(), "not taken over", "", words, how);
        }
    });
    return lost;
}

}  // namespace stripbook::book
