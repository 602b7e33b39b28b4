// What a person types to settle groups of photos: "3 5-9 yes 4 b 7 apart p31".
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/unsettled_groups.h"
#include "number/tag_number.h"

namespace stripbook::day {

struct Decision {
    enum class Kind {
        yes,         ///< its best suggestion
        suggestion,  ///< the one with this letter
        part,        ///< this part
        none,        ///< belongs to no part
        apart,       ///< is not one group: cut before these photos, or between all of them
        back,        ///< what was decided is taken back
    };
    Kind kind = Kind::yes;
    char letter = 0;
    std::optional<number::TagNumber> tag;
    std::vector<book::PhotoNumber> cut_before;
};

struct Order {
    book::GroupNumber group;
    Decision decision;
};

/// Groups and ranges of groups, then what becomes of them, as often as wanted. A part may be typed in any
/// form; a bare number counts as a part only at the end and where no group has that number. Throws WrongUse,
/// saying what is wrong, when a number is no group of the book (1 to `highest`), a group is named twice, or a
/// word is not understood.
std::vector<Order> orders_from_words(const std::vector<std::string>& words, const number::BookCode& here,
                                     book::GroupNumber highest);

/// "3", "5-9": the groups, checked against `highest`; nothing when the word is no number or range.
std::optional<std::vector<book::GroupNumber>> groups_from_word(const std::string& word,
                                                               book::GroupNumber highest);

}  // namespace stripbook::day
