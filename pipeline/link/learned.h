// What is learned of one camera's day: gaps, likeness, sizes of tags and habits. Each begins at a broad guess
// that counts as a few observations, and moves to what the day shows.
#pragma once

#include "link/habit.h"

namespace stripbook::link {

/// A normal distribution of a logarithm, learned from weighted values.
class Bell {
  public:
    /// The guess counts as `worth` values.
    Bell(double mean, double sigma, double worth) : mean_(mean), sigma_(sigma), worth_(worth) { forget(); }
    [[nodiscard]] double density(double x) const;
    void add(double x, double weight) {
        weight_ += weight;
        sum_ += weight * x;
        squares_ += weight * x * x;
    }
    /// Moves to what was added, and forgets it.
    void learn();
    [[nodiscard]] double mean() const { return now_mean_; }
    [[nodiscard]] double sigma() const { return now_sigma_; }
    /// Another guess from now on.
    void expect(double mean) { mean_ = mean; }

  private:
    void forget() { weight_ = sum_ = squares_ = 0; }
    double mean_, sigma_, worth_;
    double weight_ = 0, sum_ = 0, squares_ = 0;
    double now_mean_ = mean_, now_sigma_ = sigma_;
};

/// A chance learned from counts.
class Chance {
  public:
    Chance(double guess, double worth) : guess_(guess), worth_(worth), now_(guess) {}
    operator double() const { return now_; }
    void add(double yes, double no) {
        yes_ += yes;
        no_ += no;
    }
    void learn() {
        now_ = (guess_ * worth_ + yes_) / (worth_ + yes_ + no_);
        yes_ = no_ = 0;
    }

  private:
    double guess_, worth_, now_;
    double yes_ = 0, no_ = 0;
};

/// How tags stand in pictures: logarithm of the side of a square of the tag's area over that of the
/// picture's, and whether it lies at the picture's edge.
struct TagLook {
    Bell log_size;
    Chance at_edge;
};

/// How alike a photo looks to what another camera shot just then: of the same part, and of another part. Two
/// cameras see colours differently and stand in different places, so this is learned apart from neighbours.
class CompanyLooks {
  public:
    CompanyLooks();
    void add(double unlike, bool same_part);
    void learn();
    /// How much more probable this unlikeness is when the part is the same; within bounds.
    [[nodiscard]] double for_same_part(double unlike) const;

  private:
    Bell same_, other_;
};

struct Learned {
    explicit Learned(double link_time_s);

    Habits habit = usual_habits();
    /// Of ln(1 + seconds) between two photos of a run, and of two runs.
    Bell gap_within, gap_between;
    /// Of the logarithm of the unlikeness of neighbours.
    Bell unlike_within, unlike_between;
    TagLook own_tag, stray_tag;
    /// That a photo shows a tag of a part it does not belong to.
    Chance stray_rate;

    /// Chances of what is seen between neighbours, over any outcome of it.
    [[nodiscard]] double gap_density(double gap_s, bool within) const;
    [[nodiscard]] double unlike_density(double unlike, bool within) const;

    /// What a step of the day shows, to learn from: `within`: the chance that both photos are of one run.
    void add_gap(double gap_s, double within);
    void add_unlike(double unlike, double within);
    /// Moves to what was added; `counts`: how often each way of the habits was taken.
    void learn(const Habits& counts);
};

double log_gap(double gap_s);
double log_unlike(double unlike);

}  // namespace stripbook::link
