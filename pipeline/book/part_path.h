// What happens to a part: its path with the reason, what is ordered for it, and the work still to do.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// What a person said with the decision. The path itself stands in Part::path; when that was changed since by
/// other means (a parts list), these are blank.
struct PathRecord {
    std::string why;
    std::string by;                           ///< who decided
    std::string at;                           ///< UTC, RFC 3339; empty: no decision was recorded
    std::string from_whom;                    ///< buy: dealer; repair, make: shop
    std::optional<std::int64_t> price_cents;  ///< buy, repair, make
    std::string ordered_on;                   ///< 2026-11-25, or empty
    std::string received_on;
    std::string drawing;   ///< make
    std::string material;  ///< make
};

/// What is to be changed: what is not set stays.
struct PathChange {
    std::optional<std::string> path;  ///< one of path_words; another one than before begins a new record
    std::optional<std::string> why, from_whom, ordered_on, received_on, drawing, material;
    std::optional<std::int64_t> price_cents;
    std::string by;  ///< who decided
};

/// A piece of work on a part.
struct Work {
    std::int64_t number = 0;  ///< running in the book
    std::string work;
    std::optional<double> hours;  ///< planned
    std::string at;               ///< entered, UTC, RFC 3339
    std::string done_on;          ///< 2026-11-25; empty: still to do
    std::string done_by;
    std::optional<double> hours_taken;
    std::string dropped_why;  ///< not to be done after all; empty: it is
    [[nodiscard]] bool is_open() const { return done_on.empty() && dropped_why.empty(); }
};

/// Throws WrongUse: an unknown part or path, a new path without a reason, a detail that the path does not
/// take
/// ("--received" of scrap), received before ordered.
void change_path(Book& book, const number::TagNumber& tag, const PathChange& change, const std::string& who);

PathRecord path_of(const Book& book, const number::TagNumber& tag);

/// Returns the work's number. Throws WrongUse for an unknown part, no words, or hours that cannot be.
std::int64_t add_work(Book& book, const number::TagNumber& tag, const std::string& work,
                      const std::optional<double>& hours, const std::string& who);

/// How a work ended.
struct WorkEnd {
    std::string done_on;  ///< 2026-11-25
    std::string done_by;
    std::optional<double> hours_taken;
    std::string dropped_why;  ///< set: the work is dropped, and the others stay empty
};

/// Throws WrongUse when the part has no such open work.
void end_work(Book& book, const number::TagNumber& tag, std::int64_t number, const WorkEnd& end,
              const std::string& who);

/// By number, also those that are done or dropped.
std::vector<Work> works_of(const Book& book, const number::TagNumber& tag);

/// What keeps a part from going back, one line each: "undecided", "on hold", "work to do: bush and ream",
/// "bought part not received". Empty: nothing, or it is scrap and goes nowhere.
std::vector<std::string> what_blocks_refitting(const Part& part, const PathRecord& path,
                                               const std::vector<Work>& works);

/// "bush and ream, 3 h; done 2026-11-25 by Ben in 4 h".
std::string words_of(const Work& work);

}  // namespace stripbook::book
