#include "book/parts.h"

#include <fmt/format.h>

#include "book/history.h"
#include "book/part_fields.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "book/tag_meanings.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* select_parts =
    "SELECT tag, name, assembly, place, storage, quantity_expected, quantity_present, face_height_mm, "
    "condition, path, "
    "notes, listed, other_tag, parent FROM part ";

constexpr const char* insert_part =
    "INSERT INTO part (name, assembly, place, storage, quantity_expected, quantity_present, face_height_mm, "
    "condition, "
    "path, notes, listed, other_tag, parent, tag) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";

// The same values in the same order, so that one function binds both.
constexpr const char* update_part =
    "UPDATE part SET name = ?, assembly = ?, place = ?, storage = ?, quantity_expected = ?, quantity_present "
    "= ?, "
    "face_height_mm = ?, condition = ?, path = ?, notes = ?, listed = ?, other_tag = ?, parent = ? WHERE tag "
    "= ?";

Part part_of_row(Query& row) {
    Part part(tag_from_stored(row.text(0)));
    part.name = row.text(1);
    part.assembly = row.text(2);
    part.place = row.text(3);
    part.storage = row.text(4);
    part.quantity_expected = row.maybe_small(5);
    part.quantity_present = row.maybe_small(6);
    part.face_height_mm = row.maybe_real(7);
    part.condition = row.text(8);
    part.path = row.text(9);
    part.notes = map_from_stored(row.text(10));
    part.listed = row.yes(11);
    part.other_tag = row.text(12);
    if (const auto parent = row.maybe_text(13)) {
        part.parent = tag_from_stored(*parent);
    }
    return part;
}

void write_part(Book& book, const Part& part, const char* sql) {
    Query(book, sql)
        .with(part.name, part.assembly, part.place, part.storage, part.quantity_expected,
              part.quantity_present, part.face_height_mm, part.condition, part.path, stored_map(part.notes),
              part.listed, part.other_tag, part.parent ? std::optional(part.parent->text()) : std::nullopt,
              part.tag.text())
        .run();
}

void check_own_tag(const Book& book, const number::TagNumber& tag) {
    if (tag.book() != book.code()) {
        throw WrongUse(fmt::format("{} belongs to book {}, this is book {}: look at the tag again",
                                   tag.text(), tag.book().text(), book.code().text()));
    }
}

}  // namespace

std::vector<Part> all_parts(const Book& book) {
    Query query(book, std::string(select_parts) + "ORDER BY tag");
    std::vector<Part> parts;
    while (query.next()) {
        parts.push_back(part_of_row(query));
    }
    return parts;
}

std::optional<Part> find_part(const Book& book, const number::TagNumber& tag) {
    Query query(book, std::string(select_parts) + "WHERE tag = ?");
    query.with(tag.text());
    return query.next() ? std::optional(part_of_row(query)) : std::nullopt;
}

std::vector<number::TagNumber> taken_from(const Book& book, const number::TagNumber& tag) {
    Query query(book, "SELECT tag FROM part WHERE parent = ? ORDER BY tag");
    query.with(tag.text());
    std::vector<number::TagNumber> tags;
    while (query.next()) {
        tags.push_back(tag_from_stored(query.text(0)));
    }
    return tags;
}

Part part_or_refusal(const Book& book, const number::TagNumber& tag) {
    auto part = find_part(book, tag);
    if (!part) {
        throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
    }
    return *std::move(part);
}

bool add_seen_part(Book& book, const number::TagNumber& tag, PhotoNumber seen_in, const std::string& who) {
    check_own_tag(book, tag);
    bool made = false;
    book.together([&] {
        if (find_part(book, tag)) {
            return;
        }
        write_part(book, Part(tag), insert_part);
        note_change(book, who, tag.text(), "part", "", "new", "tag seen in " + seen_in.text());
        made = true;
    });
    return made;
}

void save_part(Book& book, const Part& part, const std::string& who, const std::string& how) {
    check_own_tag(book, part.tag);
    check_part(part);
    book.together([&] {
        const auto known = find_part(book, part.tag);
        if (const auto one = known ? std::nullopt : merged_into(book, part.tag)) {
            throw WrongUse(fmt::format("{} is one part with {} (parts merge); use that number",
                                       part.tag.text(), one->text()));
        }
        const auto changes = differences(known.value_or(Part(part.tag)), part);
        if (!known) {
            write_part(book, part, insert_part);
            note_change(book, who, part.tag.text(), "part", "", "new", how);
        } else if (!changes.empty() || known->notes != part.notes) {
            write_part(book, part, update_part);
        }
        for (const auto& change : changes) {
            note_change(book, who, part.tag.text(), change.field, change.before, change.after, how);
        }
    });
}

}  // namespace stripbook::book
