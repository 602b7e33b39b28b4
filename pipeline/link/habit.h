// How a person with a camera goes about one part: which photos of a run show its tag. A run is one visit to a
// part: photos of one camera, one after the other, of one part.
//
//     first tag  -> after first ...  -> again tag       the tag is shot first (and perhaps once more)
//     before ... -> late tag -> after late ...          the tag is shot last, or in the middle
//     never ...                                         no tag in this run
//
// Four habits (tag first, tag last, both, in the middle) are the same chain with other chances; a person
// keeps a habit from run to run and sometimes changes it. The chances are learned from the day (learn.h); the
// ones here are where that begins.
#pragma once

#include <array>
#include <cstddef>

namespace stripbook::link {

enum Phase : std::size_t { first_tag, after_first, again_tag, before, late_tag, after_late, never };
inline constexpr std::size_t phases = 7;
/// Instead of a next phase: the run ends.
inline constexpr std::size_t run_ends = phases;

constexpr bool shows_tag(std::size_t phase) {
    return phase == first_tag || phase == again_tag || phase == late_tag;
}

struct Habit {
    std::array<double, phases> start{};                         ///< chance of a run's first phase
    std::array<std::array<double, phases + 1>, phases> next{};  ///< from, to (or run_ends)
};

inline constexpr std::size_t habits = 4;
enum HabitName : std::size_t { tag_first, tag_last, tag_both, tag_middle };
/// In words that follow "this camera's tag shots come".
const char* habit_words(std::size_t habit);

using Habits = std::array<Habit, habits>;
/// Before anything is known of the day (judgement, no source).
const Habits& usual_habits();
/// The first run's habit, before anything is known.
inline constexpr std::array<double, habits> habit_at_start{0.7, 0.12, 0.1, 0.08};
/// That the next run keeps it; else it is any of the others.
inline constexpr double habit_kept = 0.97;

}  // namespace stripbook::link
