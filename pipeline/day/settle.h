// A person's decisions on groups of unsettled photos, and what follows from them at once.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "book/unsettled_groups.h"
#include "day/settle_words.h"

namespace stripbook::day {

struct Settled {
    book::GroupNumber group;
    std::string decision;                   ///< tag number, "no part", "apart" or "back"
    std::vector<book::PhotoNumber> photos;  ///< it was said of
    std::vector<book::PhotoNumber> left;    ///< of the group as it was once, that waited no more: not touched
    std::vector<book::GroupNumber> pieces;  ///< of a group that is apart: its photos' new numbers
    bool as_it_was = false;                 ///< that had been said, or had come about, already
};

/// Carries out all orders and links all photos anew, in one transaction: all or nothing. A part that is
/// suggested or was printed and has no record gets one. "yes" takes suggestion a, as a printed sheet shows
/// it, and is refused once another one is better. Throws WrongUse, naming the group, when an order cannot be
/// carried out.
std::vector<Settled> settle(book::Book& book, const std::vector<Order>& orders, const std::string& who);

/// What became of a group that is not open: "group 4 was settled on 2026-11-25 by Ana: PET-00417-D".
std::string ending_words(const book::Book& book, const book::UnsettledGroup& group);

}  // namespace stripbook::day
