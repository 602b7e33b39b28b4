// Which part a tag number means, and from when: two tags that were hung on one part, or a tag that was hung
// back on the wrong part. Everywhere else a number means the part it was made for.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// A meaning without a beginning: the tag always meant that part (parts merged).
inline constexpr double since_ever = -1e12;

struct TagMeaning {
    number::TagNumber tag;
    double from_s = since_ever;  ///< workshop time as if it were UTC, as Photo::corrected_seconds
    number::TagNumber part;
    std::string at{};  ///< entered, UTC, RFC 3339
    std::string who{};
};

/// By tag, then time.
std::vector<TagMeaning> tag_meanings(const Book& book);

/// The meaning that counts at a time; nothing: the number means its own part. `meanings`: in their order.
const TagMeaning* meaning_at(const std::vector<TagMeaning>& meanings, const number::TagNumber& tag,
                             double seconds);

/// Keeps one; the same tag and time again changes it. Throws WrongUse when the part is unknown.
void set_tag_meaning(Book& book, const TagMeaning& meaning, const std::string& who);

/// The part that a number was merged into; nothing: it was not.
std::optional<number::TagNumber> merged_into(const Book& book, const number::TagNumber& tag);

/// The numbers that were merged into a part, by number.
std::vector<number::TagNumber> merged_numbers_of(const Book& book, const number::TagNumber& part);

/// A part's number as a person types it ("417"): one that was merged into another part means that part.
/// Throws WrongUse as TagNumber::from_typed does.
number::TagNumber part_from_typed(const Book& book, const std::string& text);

}  // namespace stripbook::book
