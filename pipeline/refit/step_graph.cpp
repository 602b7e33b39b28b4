#include "refit/step_graph.h"

#include <algorithm>
#include <numeric>

namespace stripbook::refit {

namespace {

using number::TagNumber;

bool goes_in_first(const book::Removal& a, const book::Removal& b) {
    if (a.seconds.has_value() != b.seconds.has_value()) {
        return a.seconds.has_value();
    }
    if (a.seconds && *a.seconds != *b.seconds) {
        return *a.seconds > *b.seconds;
    }
    if (a.photo != b.photo) {
        return a.photo > b.photo;
    }
    return a.tag < b.tag;
}

// Which parts are one: each points toward the part that stands for its step.
class OneStep {
  public:
    explicit OneStep(std::size_t parts) : toward_(parts) { std::iota(toward_.begin(), toward_.end(), 0U); }
    std::size_t of(std::size_t part) {
        while (toward_[part] != part) {
            toward_[part] = toward_[toward_[part]];
            part = toward_[part];
        }
        return part;
    }
    // The earlier part stands for both, so that a step's place is that of its part removed last.
    void join(std::size_t one, std::size_t other) {
        const std::size_t first = of(one);
        const std::size_t second = of(other);
        toward_[std::max(first, second)] = std::min(first, second);
    }

  private:
    std::vector<std::size_t> toward_;
};

}  // namespace

StepGraph step_graph(const std::vector<book::Removal>& removals, const std::vector<book::RefitWord>& words) {
    std::vector<const book::Removal*> sorted;
    for (const auto& removal : removals) {
        sorted.push_back(&removal);
    }
    std::sort(sorted.begin(), sorted.end(),
              [](const auto* a, const auto* b) { return goes_in_first(*a, *b); });
    std::map<TagNumber, std::size_t> place_of;
    for (std::size_t i = 0; i < sorted.size(); ++i) {
        place_of.emplace(sorted[i]->tag, i);
    }

    StepGraph graph;
    OneStep one_step(sorted.size());
    std::vector<const book::RefitWord*> before_words;
    for (const auto& word : words) {
        const auto first = place_of.find(word.first);
        const auto second = place_of.find(word.second);
        if (first == place_of.end() || second == place_of.end()) {
            continue;
        }
        if (word.kind == book::RefitWordKind::together) {
            one_step.join(first->second, second->second);
            graph.together_words.push_back(&word);
        } else {
            before_words.push_back(&word);
        }
    }
    std::vector<std::size_t> step_at(sorted.size());
    for (std::size_t i = 0; i < sorted.size(); ++i) {
        const std::size_t stands_for_it = one_step.of(i);
        if (stands_for_it == i) {
            step_at[i] = graph.steps.size();
            graph.steps.emplace_back();
        }
        step_at[i] = step_at[stands_for_it];
        graph.steps[step_at[i]].push_back(sorted[i]->tag);
        graph.step_of.emplace(sorted[i]->tag, step_at[i]);
    }
    graph.arrows.resize(graph.steps.size());
    for (const auto* word : before_words) {
        graph.arrows[graph.step_of.at(word->first)].push_back({graph.step_of.at(word->second), word});
    }
    return graph;
}

}  // namespace stripbook::refit
