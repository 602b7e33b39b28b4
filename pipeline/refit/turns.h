// Whose turn it is: what can go in now, and what is held up by what.
#pragma once

#include <cstddef>
#include <map>
#include <vector>

#include "refit/order.h"

namespace stripbook::refit {

/// What the book says of a part.
struct Standing {
    bool path_done = false;    ///< ready as far as its path goes
    bool in_place = false;     ///< somebody said that it is back in
    bool goes_back_in = true;  ///< false: scrap, nobody waits for it
};

enum class State { in_place, can_go_in, held_up, left_out };

/// "in place", "can go in", "held up" or "left out".
const char* state_word(State state);

struct Turn {
    number::TagNumber tag;
    std::size_t step = 0;  ///< from 1; 0: none, because of a circle
    State state = State::held_up;
    /// Can go in, and nothing that stands earlier in the order is still missing.
    bool in_turn = false;
    /// What must be in first, by people's words, and is not. Through what is in place or left out, too.
    std::vector<number::TagNumber> waits_for;
    /// Parts of its own step, itself among them, whose path is not done.
    std::vector<number::TagNumber> not_ready;
};

/// In the order of refitting; then what has no step. The reverse of removal alone holds nothing up: only a
/// path, a person's word and a circle do.
std::vector<Turn> turns(const Order& order, const std::vector<book::RefitWord>& words,
                        const std::map<number::TagNumber, Standing>& standings);

}  // namespace stripbook::refit
