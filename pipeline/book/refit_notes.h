// What refitting needs to know of a part beside its photos: match marks, which way round, shims, settings,
// fasteners, torques and what is always new. Each entry has a number in its part; it is corrected or ended,
// never deleted.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

enum class RefitNoteKind { match_marks, way_round, shim, setting, fastener, torque, always_new };
inline constexpr std::array<RefitNoteKind, 7> refit_note_kinds{
    RefitNoteKind::match_marks, RefitNoteKind::way_round, RefitNoteKind::shim,      RefitNoteKind::setting,
    RefitNoteKind::fastener,    RefitNoteKind::torque,    RefitNoteKind::always_new};

/// "match marks", "way round", "shim", "setting", "fastener", "torque", "always new".
const char* refit_note_kind_words(RefitNoteKind kind);

/// Which fields a kind has beside `words`:
///   shim        place, value in mm (both needed; `words` may be empty), count
///   fastener    size (needed: "M12"), length ("50"), count, place; no `words`
///   torque      `words` (what is tightened), value and unit ("N.m" or "lbf.ft"), source: all needed
///   always new  `words` (needed: "split pin"), size ("4 x 40"), count
struct RefitNote {
    RefitNoteKind kind = RefitNoteKind::match_marks;
    std::string words;
    std::string size;
    std::string length;
    std::optional<int> count;
    std::string place;
    std::optional<double> value;
    std::string unit;
    std::string source;
    int number = 0;  ///< in its part, from 1; a correction keeps it
    std::string at;  ///< UTC, RFC 3339
    std::string who;
};

/// The entries that hold, by number.
std::vector<RefitNote> refit_notes(const Book& book, const number::TagNumber& tag);

/// Adds entries; returns them with their numbers. WrongUse when the book has no such part or a field is
/// missing, wrong, or not of the entry's kind.
std::vector<RefitNote> add_refit_notes(Book& book, const number::TagNumber& tag,
                                       const std::vector<RefitNote>& notes, const std::string& who);

/// Puts `note` in the place of entry `number`, which is kept as ended. WrongUse as above, and when no such
/// entry holds.
RefitNote correct_refit_note(Book& book, const number::TagNumber& tag, int number, const RefitNote& note,
                             const std::string& who);

/// Ends an entry. WrongUse when no such entry holds.
void end_refit_note(Book& book, const number::TagNumber& tag, int number, const std::string& who);

/// An entry as one line without its kind, lengths in mm: "left horn: 0.8 mm", "4 of M12 x 50, cover flange",
/// "M12 nuts: 70 N.m (works manual p. 12)".
std::string refit_note_words(const RefitNote& note);

}  // namespace stripbook::book
