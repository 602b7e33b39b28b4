// What people did, one command one act, and taking an act back.
//
//   A person's command records what it changed in what people say (a changeset of SQLite's session
//   extension). Taking it back turns every changed field to what it was, provided that it is still what the
//   command left. What the program works out by itself is left to it: link the photos anew afterwards. What
//   came in with cards, and tags that were printed, cannot be taken back.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

struct Act {
    std::int64_t number = 0;
    std::string at;  ///< UTC, RFC 3339
    std::string who;
    std::string command;                             ///< as it was typed
    std::int64_t first_change = 0, last_change = 0;  ///< numbers in the history
    std::int64_t changes = 0;                        ///< how many a person's entries in the history it made
};

/// Those that can be taken back, newest first.
std::vector<Act> acts(const Book& book);

/// What people did since `act` that cannot be taken back, in words, oldest first: "the card PETREL-1 was
/// taken in (dump 3)", "tags were printed (print run 2)".
std::vector<std::string> not_to_be_undone_since(const Book& book, const Act& act);

/// The changes that an act made, as the history has them, oldest first; the program's own left out.
std::vector<Change> changes_of(const Book& book, const Act& act);

/// Takes an act back, all of it; the history says so of every record. Throws WrongUse, in words that name
/// what stands in the way, when a record was changed since or a later one rests on it. Link the photos anew
/// in the same transaction.
void take_back(Book& book, const Act& act, const std::string& who);

}  // namespace stripbook::book
