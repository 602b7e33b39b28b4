#include "refit/circles.h"

#include <algorithm>
#include <map>
#include <optional>
#include <queue>

namespace stripbook::refit {

namespace {

using book::RefitWord;
using number::TagNumber;

// The words "together" that join two parts of one step, in order from the one to the other.
std::vector<RefitWord> words_that_join(const StepGraph& graph, const TagNumber& from, const TagNumber& to) {
    if (from == to) {
        return {};
    }
    std::multimap<TagNumber, const RefitWord*> words_about;
    for (const auto* word : graph.together_words) {
        words_about.emplace(word->first, word);
        words_about.emplace(word->second, word);
    }
    std::map<TagNumber, RefitWord> reached_by;
    std::queue<TagNumber> edge;
    for (edge.push(from); !edge.empty() && !reached_by.contains(to); edge.pop()) {
        const auto [begin, end] = words_about.equal_range(edge.front());
        for (auto it = begin; it != end; ++it) {
            RefitWord word = *it->second;
            if (word.first != edge.front()) {
                std::swap(word.first, word.second);
            }
            if (word.second != from && reached_by.emplace(word.second, word).second) {
                edge.push(word.second);
            }
        }
    }
    std::vector<RefitWord> words;
    for (TagNumber at = to; at != from; at = words.back().first) {
        words.push_back(reached_by.at(at));
    }
    std::reverse(words.begin(), words.end());
    return words;
}

// `arrows` lead from step to step and back to where they began.
Circle circle_of(const StepGraph& graph, const std::vector<Arrow>& arrows) {
    Circle circle;
    for (std::size_t i = 0; i < arrows.size(); ++i) {
        const RefitWord& word = *arrows[i].word;
        const TagNumber& leaves_by = arrows[(i + 1) % arrows.size()].word->first;
        circle.words.push_back(word);
        const auto joining = words_that_join(graph, word.second, leaves_by);
        circle.words.insert(circle.words.end(), joining.begin(), joining.end());
    }
    for (const auto& word : circle.words) {
        circle.tags.push_back(word.first);
    }
    return circle;
}

// Follows arrows in depth, without recursion: books may be deep.
class Walk {
  public:
    Walk(const StepGraph& graph, const std::vector<bool>& has_place)
        : graph_(graph), done_(has_place), depth_(graph.steps.size()), next_(graph.steps.size(), 0) {}

    void from(std::size_t step, std::vector<Circle>& circles) {
        enter(step);
        while (!path_.empty()) {
            const std::size_t here = path_.back();
            if (next_[here] == graph_.arrows[here].size()) {
                leave();
                continue;
            }
            const Arrow& arrow = graph_.arrows[here][next_[here]++];
            if (depth_[arrow.to]) {
                circles.push_back(close(arrow));
            } else if (!done_[arrow.to]) {
                taken_.push_back(arrow);
                enter(arrow.to);
            }
        }
    }
    [[nodiscard]] bool is_done(std::size_t step) const { return done_[step]; }

  private:
    void enter(std::size_t step) {
        depth_[step] = path_.size();
        path_.push_back(step);
    }
    void leave() {
        depth_[path_.back()].reset();
        done_[path_.back()] = true;
        path_.pop_back();
        if (!taken_.empty()) {
            taken_.pop_back();
        }
    }
    // The circle that `last` closes; its steps are left, so that no other circle takes one of them.
    Circle close(const Arrow& last) {
        const std::size_t begin = *depth_[last.to];
        std::vector<Arrow> arrows(taken_.begin() + static_cast<std::ptrdiff_t>(begin), taken_.end());
        arrows.push_back(last);
        while (path_.size() > begin) {
            leave();
        }
        return circle_of(graph_, arrows);
    }

    const StepGraph& graph_;
    std::vector<bool> done_;
    std::vector<std::optional<std::size_t>> depth_;  ///< of the steps on the path
    std::vector<std::size_t> next_;                  ///< arrow to follow
    std::vector<std::size_t> path_;
    std::vector<Arrow> taken_;  ///< between neighbours on the path
};

}  // namespace

std::vector<Circle> circles_among(const StepGraph& graph, const std::vector<bool>& has_place) {
    std::vector<Circle> circles;
    Walk walk(graph, has_place);
    for (std::size_t step = 0; step < graph.steps.size(); ++step) {
        if (!walk.is_done(step)) {
            walk.from(step, circles);
        }
    }
    return circles;
}

}  // namespace stripbook::refit
