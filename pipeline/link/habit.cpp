#include "link/habit.h"

namespace stripbook::link {

namespace {

// Of a phase: stay untagged, show the tag (again), end the run.
struct Odds {
    double untagged, tag, end;
};

Habit habit(double starts_with_tag, double starts_before, double never_shown, Odds at_first_tag,
            Odds at_after_first, Odds at_again_tag, Odds at_late_tag) {
    Habit h;
    h.start[first_tag] = starts_with_tag;
    h.start[before] = starts_before;
    h.start[never] = never_shown;
    const auto set = [&](Phase from, Phase untagged, Odds odds) {
        h.next[from][untagged] = odds.untagged;
        h.next[from][again_tag] = odds.tag;
        h.next[from][run_ends] = odds.end;
    };
    set(first_tag, after_first, at_first_tag);
    set(after_first, after_first, at_after_first);
    set(again_tag, after_first, at_again_tag);
    set(late_tag, after_late, at_late_tag);
    set(after_late, after_late, {0.70, 0.04, 0.26});
    h.next[before][before] = 0.70;
    h.next[before][late_tag] = 0.30;
    h.next[never][never] = 0.75;
    h.next[never][run_ends] = 0.25;
    return h;
}

}  // namespace

const char* habit_words(std::size_t habit) {
    constexpr std::array<const char*, habits> words{"first", "last", "first and last", "in the middle"};
    return words.at(habit);
}

const Habits& usual_habits() {
    static const Habits usual{
        habit(0.94, 0.02, 0.04, {0.80, 0.05, 0.15}, {0.73, 0.03, 0.24}, {0.6, 0.1, 0.3}, {0.3, 0.1, 0.6}),
        habit(0.15, 0.81, 0.04, {0.20, 0.10, 0.70}, {0.60, 0.15, 0.25}, {0.1, 0.1, 0.8}, {0.04, 0.06, 0.9}),
        habit(0.91, 0.05, 0.04, {0.80, 0.12, 0.08}, {0.67, 0.30, 0.03}, {0.06, 0.06, 0.88}, {0.2, 0.1, 0.7}),
        habit(0.20, 0.76, 0.04, {0.60, 0.10, 0.30}, {0.68, 0.06, 0.26}, {0.4, 0.1, 0.5}, {0.75, 0.05, 0.2})};
    return usual;
}

}  // namespace stripbook::link
