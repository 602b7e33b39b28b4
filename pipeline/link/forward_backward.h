// The exact sums of a hidden Markov model, for any model that can take one step. Weights are scaled step by
// step, so that days of any length stay within a double (Rabiner 1989, section V A).
#pragma once

#include <algorithm>
#include <cstddef>
#include <numeric>
#include <vector>

namespace stripbook::link {

using Weights = std::vector<double>;  ///< one a state

/// Brings them to a sum of one. All zero stays so.
inline void scale_to_one(Weights& weights) {
    const double sum = std::accumulate(weights.begin(), weights.end(), 0.0);
    if (sum > 0) {
        for (double& w : weights) {
            w /= sum;
        }
    }
}

/// `Model` has
///     std::size_t steps() const;
///     Weights forward(std::size_t step, const Weights& before) const;   the first step gets an empty
///     `before` Weights backward(std::size_t step, const Weights& behind) const;  for the states of `step -
///     1` Weights at_end() const;                                           of the last step's states
/// where forward's weights include what is seen at `step`, and backward's `behind` is to be taken with what
/// is seen at `step`. `use(step, posterior, before, behind)` is called from the last step to the first with
/// the posterior of the step's states (sum 1), the forward weights of the step before (empty at the first)
/// and the backward weights of this step.
template <typename Model, typename Use>
void forward_backward(const Model& model, const Use& use) {
    const std::size_t steps = model.steps();
    if (steps == 0) {
        return;
    }
    std::vector<Weights> forward(steps);
    for (std::size_t t = 0; t < steps; ++t) {
        forward[t] = model.forward(t, t == 0 ? Weights{} : forward[t - 1]);
        scale_to_one(forward[t]);
    }
    Weights behind = model.at_end();
    for (std::size_t t = steps; t-- > 0;) {
        Weights posterior(behind.size());
        std::transform(behind.begin(), behind.end(), forward[t].begin(), posterior.begin(),
                       [](double b, double f) { return b * f; });
        scale_to_one(posterior);
        use(t, posterior, t == 0 ? Weights{} : forward[t - 1], behind);
        if (t > 0) {
            behind = model.backward(t, behind);
            scale_to_one(behind);
        }
    }
}

}  // namespace stripbook::link
