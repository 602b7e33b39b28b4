// The order in which parts go back: the reverse of their removal, corrected by what people said.
#pragma once

#include <vector>

#include "book/refit_order.h"

namespace stripbook::refit {

/// Parts that go in at one go; one part, where nobody said "together".
using Step = std::vector<number::TagNumber>;

/// Words that cannot all be right: each part in it goes in before the next one (or together with it), and the
/// last before the first.
struct Circle {
    std::vector<number::TagNumber> tags;  ///< in the order of the words, each once
    std::vector<book::RefitWord> words;   ///< that make it
};

struct Order {
    std::vector<Step> steps;
    /// No two share a step, and every circle there is shares a step with one of these.
    std::vector<Circle> circles;
    /// Parts on a circle or after one: they have no step until a word is taken back. By reverse of removal.
    Step without_step;
};

/// The order nearest to the reverse of removal in this sense: of the steps whose predecessors all have their
/// place already, the next is the one that was removed last. A step was removed when the first part of it
/// came off to go back in first, that is its part removed last. Parts without a time follow those with one;
/// what still is equal goes by tag number. Words about parts that `removals` does not name count for nothing.
/// Takes O(n log n + words). A.B. Kahn, Topological sorting of large networks, CACM 5 (1962), with a heap.
Order order_of(const std::vector<book::Removal>& removals, const std::vector<book::RefitWord>& words);

}  // namespace stripbook::refit
