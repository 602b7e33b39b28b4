#include "link/learned.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace stripbook::link {

namespace {

constexpr double pi = 3.14159265358979323846;

// Anything from a second to a day (tea breaks, a walk to the store) and any look can come between two photos:
// a flat share keeps one odd gap from deciding alone.
constexpr double odd_gap_within = 0.02;
constexpr double odd_gap_between = 0.10;
constexpr double flat_gap = 1 / 11.4;  // per unit of ln(1 + seconds), up to a day
constexpr double odd_look = 0.05;
constexpr double flat_look = 1 / 7.0;  // ln(0.001) to ln(1)

constexpr double gap_worth = 16;
constexpr double look_worth = 8;
constexpr double company_worth = 3;

constexpr double least_sigma_gap = 0.25;

// Real photos within a run lie this many times closer together than the link time, and runs that much further
// apart (judgement, no source: the day corrects it).
constexpr double within_less = 6;
constexpr double between_more = 1.7;

// A neighbour's tag is this much smaller than the camera's own tag shots, as a logarithm.
constexpr double stray_smaller = 1.0;

// The usual habit counts as this many runs.
constexpr double habit_worth = 12;

template <std::size_t n>
void learn_row(std::array<double, n>& row, const std::array<double, n>& usual,
               const std::array<double, n>& counts) {
    double all = 0;
    for (std::size_t i = 0; i < n; ++i) {
        row[i] = habit_worth * usual[i] + counts[i];
        all += row[i];
    }
    for (double& chance : row) {
        chance /= all;
    }
}

}  // namespace

double log_gap(double gap_s) {
    return std::log1p(std::max(0.0, gap_s));
}

double log_unlike(double unlike) {
    constexpr double least = 0.001;
    return std::log(std::max(least, unlike));
}

double Bell::density(double x) const {
    const double z = (x - now_mean_) / now_sigma_;
    return std::exp(-0.5 * z * z) / (now_sigma_ * std::sqrt(2 * pi));
}

void Bell::learn() {
    const double all = worth_ + weight_;
    now_mean_ = (worth_ * mean_ + sum_) / all;
    // The guess' spread, and how far what was seen lies from the new mean.
    const double spread = worth_ * (sigma_ * sigma_ + (mean_ - now_mean_) * (mean_ - now_mean_)) + squares_ -
                          2 * now_mean_ * sum_ + weight_ * now_mean_ * now_mean_;
    now_sigma_ = std::max(least_sigma_gap, std::sqrt(std::max(0.0, spread / all)));
    forget();
}

// Before the day has shown any, looks tell little.
CompanyLooks::CompanyLooks()
    : same_(std::log(0.05), 0.5, company_worth), other_(std::log(0.07), 0.5, company_worth) {}

void CompanyLooks::add(double unlike, bool same_part) {
    // Photos of one run are much alike.
    constexpr double worth = 0.6;
    (same_part ? same_ : other_).add(log_unlike(unlike), worth);
}

void CompanyLooks::learn() {
    same_.learn();
    other_.learn();
}

double CompanyLooks::for_same_part(double unlike) const {
    const double x = log_unlike(unlike);
    const auto density = [&](const Bell& bell) {
        return (1 - odd_look) * bell.density(x) + odd_look * flat_look;
    };
    constexpr double most = 30;
    return std::clamp(density(same_) / density(other_), 1 / most, most);
}

Learned::Learned(double link_time_s)
    : gap_within(log_gap(link_time_s / within_less), 0.9, gap_worth),
      gap_between(log_gap(link_time_s * between_more), 1.1, gap_worth),
      unlike_within(std::log(0.04), 0.8, look_worth),
      unlike_between(std::log(0.07), 0.8, look_worth),
      own_tag{Bell(std::log(0.13), 0.6, 4), Chance(0.08, 20)},
      stray_tag{Bell(std::log(0.13) - stray_smaller, 0.45, 6), Chance(0.5, 10)},
      stray_rate(0.01, 50) {}

double Learned::gap_density(double gap_s, bool within) const {
    const double odd = within ? odd_gap_within : odd_gap_between;
    return (1 - odd) * (within ? gap_within : gap_between).density(log_gap(gap_s)) + odd * flat_gap;
}

double Learned::unlike_density(double unlike, bool within) const {
    return (1 - odd_look) * (within ? unlike_within : unlike_between).density(log_unlike(unlike)) +
           odd_look * flat_look;
}

void Learned::add_gap(double gap_s, double within) {
    const double x = log_gap(gap_s);
    // The flat share's gaps teach the bell nothing.
    gap_within.add(x, within * (1 - odd_gap_within * flat_gap / gap_density(gap_s, true)));
    gap_between.add(x, (1 - within) * (1 - odd_gap_between * flat_gap / gap_density(gap_s, false)));
}

void Learned::add_unlike(double unlike, double within) {
    const double x = log_unlike(unlike);
    unlike_within.add(x, within * (1 - odd_look * flat_look / unlike_density(unlike, true)));
    unlike_between.add(x, (1 - within) * (1 - odd_look * flat_look / unlike_density(unlike, false)));
}

void Learned::learn(const Habits& counts) {
    own_tag.log_size.learn();
    stray_tag.log_size.expect(own_tag.log_size.mean() - stray_smaller);
    for (Bell* bell : {&gap_within, &gap_between, &unlike_within, &unlike_between, &stray_tag.log_size}) {
        bell->learn();
    }
    for (Chance* chance : {&own_tag.at_edge, &stray_tag.at_edge, &stray_rate}) {
        chance->learn();
    }
    for (std::size_t h = 0; h < habits; ++h) {
        const Habit& usual = usual_habits()[h];
        learn_row(habit[h].start, usual.start, counts[h].start);
        for (std::size_t p = 0; p < phases; ++p) {
            learn_row(habit[h].next[p], usual.next[p], counts[h].next[p]);
        }
    }
}

}  // namespace stripbook::link
