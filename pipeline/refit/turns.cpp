#include "refit/turns.h"

#include <algorithm>
#include <set>

namespace stripbook::refit {

namespace {

using number::TagNumber;
using Standings = std::map<TagNumber, Standing>;

bool is_missing(const Standing& standing) {
    return standing.goes_back_in && !standing.in_place;
}

// Which steps must come directly before which, by people's words.
std::vector<std::set<std::size_t>> steps_before(const Order& order,
                                                const std::vector<book::RefitWord>& words) {
    std::map<TagNumber, std::size_t> step_of;
    for (std::size_t step = 0; step < order.steps.size(); ++step) {
        for (const auto& tag : order.steps[step]) {
            step_of.emplace(tag, step);
        }
    }
    std::vector<std::set<std::size_t>> before(order.steps.size());
    for (const auto& word : words) {
        const auto first = step_of.find(word.first);
        const auto second = step_of.find(word.second);
        if (word.kind == book::RefitWordKind::before && first != step_of.end() && second != step_of.end()) {
            before[second->second].insert(first->second);
        }
    }
    return before;
}

State state_of(const Standing& standing, const Turn& turn) {
    if (!standing.goes_back_in) {
        return State::left_out;
    }
    if (standing.in_place) {
        return State::in_place;
    }
    return turn.step > 0 && turn.waits_for.empty() && turn.not_ready.empty() ? State::can_go_in
                                                                             : State::held_up;
}

}  // namespace

const char* state_word(State state) {
    switch (state) {
        case State::in_place:
            return "in place";
        case State::can_go_in:
            return "can go in";
        case State::left_out:
            return "left out";
        case State::held_up:
            break;
    }
    return "held up";
}

std::vector<Turn> turns(const Order& order, const std::vector<book::RefitWord>& words,
                        const Standings& standings) {
    const auto before = steps_before(order, words);
    std::vector<Turn> all;
    std::vector<std::set<TagNumber>> missing_up_to(
        order.steps.size());  // a step's own missing parts, or what they hide
    bool nothing_missing = true;
    for (std::size_t step = 0; step < order.steps.size(); ++step) {
        std::set<TagNumber> waits_for;
        for (const std::size_t earlier : before[step]) {
            waits_for.insert(missing_up_to[earlier].begin(), missing_up_to[earlier].end());
        }
        std::vector<TagNumber> not_ready;
        for (const auto& tag : order.steps[step]) {
            const Standing& standing = standings.at(tag);
            if (is_missing(standing)) {
                missing_up_to[step].insert(tag);
                if (!standing.path_done) {
                    not_ready.push_back(tag);
                }
            }
        }
        for (const auto& tag : order.steps[step]) {
            Turn turn{tag, step + 1, State::held_up, false, {}, {}};
            if (is_missing(standings.at(tag))) {
                turn.waits_for.assign(waits_for.begin(), waits_for.end());
                turn.not_ready = not_ready;
            }
            turn.state = state_of(standings.at(tag), turn);
            turn.in_turn = turn.state == State::can_go_in && nothing_missing;
            all.push_back(turn);
        }
        nothing_missing = nothing_missing && missing_up_to[step].empty();
        if (missing_up_to[step].empty()) {
            missing_up_to[step] = std::move(waits_for);
        }
    }
    for (const auto& tag : order.without_step) {
        Turn turn{tag, 0, State::held_up, false, {}, {}};
        turn.state = state_of(standings.at(tag), turn);
        all.push_back(turn);
    }
    return all;
}

}  // namespace stripbook::refit
