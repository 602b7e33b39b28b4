// The book against itself: the promise of originals.h that does not belong to one kind of record.
#include <fmt/format.h>

#include "book/originals.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "errors.h"

namespace stripbook::book {

namespace {

void add_damage(const Book& book, std::vector<std::string>& faults) {
    Query query(book, "PRAGMA integrity_check");
    while (query.next()) {
        if (query.text(0) != "ok") {
            faults.push_back("book.db is damaged: " + printable_name(query.text(0)));
        }
    }
}

void add_dangling(const Book& book, std::vector<std::string>& faults) {
    Query query(book, "PRAGMA foreign_key_check");
    while (query.next()) {
        faults.push_back(fmt::format("a record in {} (row {}) points to a {} that is not there",
                                     printable_name(query.text(0)), query.text(1),
                                     printable_name(query.text(2))));
    }
}

// Rules that the tables themselves cannot keep.
void add_broken_rules(const Book& book, std::vector<std::string>& faults) {
    Query unnumbered(book,
                     "SELECT stored_path FROM original WHERE kind != 'other' AND NOT EXISTS "
                     "(SELECT 1 FROM photo WHERE photo.original = original.id)");
    while (unnumbered.next()) {
        faults.push_back(printable_name(unnumbered.text(0)) + " has no photo number");
    }
    Query unseen(book,
                 "SELECT stored_path FROM original WHERE NOT EXISTS "
                 "(SELECT 1 FROM card_file WHERE card_file.original = original.id)");
    while (unseen.next()) {
        faults.push_back(printable_name(unseen.text(0)) + " was never seen on a card");
    }
    Query tags(book, "SELECT tag FROM part");
    while (tags.next()) {
        const auto tag = number::TagNumber::from_exact(tags.text(0));
        if (!tag || tag->book() != book.code()) {
            faults.push_back(
                fmt::format("part \"{}\" has no tag number of this book", printable_name(tags.text(0))));
        }
    }
}

}  // namespace

std::vector<std::string> faults_inside(const Book& book) {
    std::vector<std::string> faults;
    try {
        add_damage(book, faults);
        add_dangling(book, faults);
        add_broken_rules(book, faults);
    } catch (const BookError& error) {
        // Damage can be so bad that checking for it fails too.
        faults.emplace_back(error.what());
    }
    return faults;
}

}  // namespace stripbook::book
