// The states of one camera's day and the ways between them, for forward_backward.h.
#pragma once

#include <cstddef>
#include <vector>

#include "link/day_model.h"
#include "link/forward_backward.h"
#include "link/seen_chances.h"

namespace stripbook::link {

/// Which parts each photo may belong to. A part is its place in `tags` plus one; 0 is a part whose tag was
/// not read, and stands first everywhere.
struct Candidates {
    std::vector<number::TagNumber> tags;
    std::vector<std::vector<std::size_t>> at;  ///< by photo
    struct InCompany {
        std::size_t part = 0;
        double by_looks = 1;  ///< how much more probable the photo's look is when it is of that part
    };
    std::vector<std::vector<InCompany>> elsewhere;  ///< of those, the parts another camera is at just then
};

/// The last three parts whose tags this camera showed, the next three, and what other cameras are at.
Candidates candidates_of(const CameraDay& day, const Company& company);

class Trellis {
  public:
    /// All must outlive it.
    Trellis(const CameraDay& day, const Candidates& candidates, const Learned& learned, double sharing);

    [[nodiscard]] std::size_t steps() const { return steps_.size(); }
    [[nodiscard]] Weights forward(std::size_t step, const Weights& before) const;
    [[nodiscard]] Weights backward(std::size_t step, const Weights& behind) const;
    [[nodiscard]] Weights at_end() const;

    /// Adds what this step shows, given the sums on both sides of it, to what is to be learned. Returns the
    /// chance that the photo is of the same run as the one before.
    double learn_from(std::size_t step, const Weights& before, const Weights& behind, Learned& into,
                      Habits& counts) const;

    /// A state's place: candidate, habit, phase.
    static std::size_t state(std::size_t candidate, std::size_t habit, std::size_t phase) {
        return (candidate * habits + habit) * phases + phase;
    }
    static constexpr std::size_t states_of_part = habits * phases;

    /// One way into a state of `step`: from a state of the step before (by weight), or by a new run.
    [[nodiscard]] double within(std::size_t step) const { return steps_[step].within; }
    [[nodiscard]] double between(std::size_t step) const { return steps_[step].between; }
    [[nodiscard]] double seen(std::size_t step, std::size_t candidate, std::size_t phase) const;
    [[nodiscard]] double start(std::size_t step, std::size_t candidate, std::size_t habit,
                               std::size_t phase) const;

  private:
    static constexpr std::size_t none = static_cast<std::size_t>(-1);
    struct Candidate {
        std::size_t before = none;  ///< its place at the step before
        SeenChances seen;
        double starts_with_tag = 0, starts_without = 0;  ///< weight among the parts of a new run
    };
    struct Step {
        std::vector<Candidate> candidates;
        double within = 1, between = 1;  ///< of the gap and the likeness to the photo before
        double gap_s = 0;
        std::optional<double> unlike;
    };
    void set_starts(Step& step, const std::vector<std::size_t>& parts,
                    const std::vector<Candidates::InCompany>& company) const;
    [[nodiscard]] std::array<double, habits> ended(const Weights& before) const;

    const Learned& learned_;
    double sharing_;
    double same_name_;
    std::vector<Step> steps_;
};

}  // namespace stripbook::link
