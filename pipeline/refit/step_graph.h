// Parts gathered into steps, and the arrows between steps that people's words draw.
#pragma once

#include <cstddef>
#include <map>
#include <optional>
#include <vector>

#include "book/refit_order.h"

namespace stripbook::refit {

struct Arrow {
    std::size_t to = 0;  ///< a step
    const book::RefitWord* word = nullptr;
};

/// Steps are numbered in the reverse of their removal; the parts of a step stand in it likewise.
struct StepGraph {
    std::vector<std::vector<number::TagNumber>> steps;
    std::map<number::TagNumber, std::size_t> step_of;
    std::vector<std::vector<Arrow>> arrows;              ///< by the step they leave
    std::vector<const book::RefitWord*> together_words;  ///< about known parts
};

/// `removals` and `words` must outlive the graph.
StepGraph step_graph(const std::vector<book::Removal>& removals, const std::vector<book::RefitWord>& words);

}  // namespace stripbook::refit
