// Parts and words for the tests of refitting, and a judge of orders that knows nothing of the room's own
// code.
#pragma once

#include <algorithm>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "refit/order.h"

namespace stripbook::test {

inline number::TagNumber tag(int serial) {
    return {number::BookCode::from_typed("PET"), serial};
}

/// Parts in the order in which they came off, one a minute.
inline std::vector<book::Removal> removed_in_order(const std::vector<int>& serials) {
    std::vector<book::Removal> removals;
    for (std::size_t i = 0; i < serials.size(); ++i) {
        removals.push_back(
            {tag(serials[i]), 60.0 * static_cast<double>(i), {static_cast<std::int64_t>(i) + 1}});
    }
    return removals;
}

using Arrows = std::vector<std::pair<int, int>>;

inline book::RefitWord before(int first, int second, const std::string& who = "Ana") {
    return {book::RefitWordKind::before, tag(first), tag(second), "2026-11-25T10:00:00Z", who};
}
inline book::RefitWord together(int first, int second, const std::string& who = "Ben") {
    return {book::RefitWordKind::together, tag(first), tag(second), "2026-11-25T10:00:00Z", who};
}

inline std::vector<book::RefitWord> words_of(const Arrows& arrows) {
    std::vector<book::RefitWord> words;
    for (const auto& [first, second] : arrows) {
        words.push_back(before(first, second));
    }
    return words;
}

/// Each number once, and no arrow points backward.
inline bool is_valid_order(const std::vector<int>& order, std::size_t count, const Arrows& arrows) {
    std::map<int, std::size_t> place;
    for (std::size_t i = 0; i < order.size(); ++i) {
        place[order[i]] = i;
    }
    return order.size() == count && place.size() == count &&
           std::all_of(arrows.begin(), arrows.end(),
                       [&](const auto& arrow) { return place.at(arrow.first) < place.at(arrow.second); });
}

inline std::vector<int> serials_of(const refit::Order& order) {
    std::vector<int> serials;
    for (const auto& step : order.steps) {
        for (const auto& t : step) {
            serials.push_back(t.serial());
        }
    }
    return serials;
}

inline std::vector<int> serials_of(const std::vector<number::TagNumber>& tags) {
    std::vector<int> serials;
    for (const auto& t : tags) {
        serials.push_back(t.serial());
    }
    return serials;
}

/// first, first + 1, ..., last; or downward.
inline std::vector<int> counting(int first, int last) {
    std::vector<int> numbers;
    for (int i = first; i != last; i += last > first ? 1 : -1) {
        numbers.push_back(i);
    }
    numbers.push_back(last);
    return numbers;
}

}  // namespace stripbook::test
