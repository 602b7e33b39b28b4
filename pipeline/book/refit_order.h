// What the order of refitting rests on: when each part came off, what people said goes before what, and what
// is back in place.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// When a part came off: its first as-removed photo.
struct Removal {
    number::TagNumber tag;
    std::optional<double> seconds;  ///< that photo's corrected time; nothing: no as-removed photo
    PhotoNumber photo;              ///< parts photos of the same time
    bool operator==(const Removal&) const = default;
};

/// Of every part, by tag number.
std::vector<Removal> removals(const Book& book);

enum class RefitWordKind {
    before,    ///< `first` goes in before `second`
    together,  ///< both go in as one step
};

/// A person's word about two parts.
struct RefitWord {
    RefitWordKind kind = RefitWordKind::before;
    number::TagNumber first;
    number::TagNumber second;
    std::string at;  ///< UTC, RFC 3339
    std::string who;
    bool operator==(const RefitWord&) const = default;
};

/// "before" or "together with".
const char* refit_word_words(RefitWordKind kind);

/// All that were not taken back, in the order they were said.
std::vector<RefitWord> refit_words(const Book& book);

/// A person's word that `first` goes in before `second`; said already, it stays as it was. WrongUse when the
/// book does not have one of them, or both are the same. A word that makes a circle with others is kept: the
/// order names the circle.
void say_before(Book& book, const number::TagNumber& first, const number::TagNumber& second,
                const std::string& who);

/// A person's word that these go in as one step: one word for each two neighbours. WrongUse as above, and for
/// fewer than two.
void say_together(Book& book, const std::vector<number::TagNumber>& tags, const std::string& who);

/// Takes back every word about these two, whichever was named first, and returns them. WrongUse when there is
/// none.
std::vector<RefitWord> forget_words(Book& book, const number::TagNumber& one, const number::TagNumber& other,
                                    const std::string& who);

/// A part is back in place: it has reached the stage "refitted".
struct Refitted {
    number::TagNumber tag;
    std::string at;  ///< UTC, RFC 3339
    std::string who;
};

/// By tag number.
std::vector<Refitted> refitted_parts(const Book& book);

/// Marks the parts as back in place, or takes that back; a part that is so already stays as it is. Returns
/// those that were changed. WrongUse when the book does not have one of them.
std::vector<number::TagNumber> set_refitted(Book& book, const std::vector<number::TagNumber>& tags,
                                            bool in_place, const std::string& who);

}  // namespace stripbook::book
