#include "link/day_model.h"

#include <algorithm>
#include <numeric>

#include "link/seen_chances.h"
#include "link/trellis.h"

namespace stripbook::link {

namespace {

using number::TagNumber;

// The posterior summed over all states of each candidate part.
std::vector<double> by_part(const Weights& posterior) {
    std::vector<double> sums(posterior.size() / Trellis::states_of_part, 0);
    for (std::size_t s = 0; s < posterior.size(); ++s) {
        sums[s / Trellis::states_of_part] += posterior[s];
    }
    return sums;
}

double chance_of(const Candidates& candidates, std::size_t step, const std::vector<double>& sums,
                 const TagNumber& tag) {
    const auto& parts = candidates.at[step];
    for (std::size_t k = 0; k < parts.size(); ++k) {
        if (parts[k] > 0 && candidates.tags[parts[k] - 1] == tag) {
            return sums[k];
        }
    }
    return 0;
}

void learn_tags(const Observed& seen, const Candidates& candidates, std::size_t step,
                const std::vector<double>& sums, Learned& into) {
    double strays = 0;
    for (const SeenTag& t : seen.tags) {
        const double own = chance_of(candidates, step, sums, t.tag);
        strays += 1 - own;
        if (t.log_size) {
            into.own_tag.log_size.add(*t.log_size, own);
            into.stray_tag.log_size.add(*t.log_size, 1 - own);
            into.own_tag.at_edge.add(t.at_edge ? own : 0, t.at_edge ? 0 : own);
            into.stray_tag.at_edge.add(t.at_edge ? 1 - own : 0, t.at_edge ? 0 : 1 - own);
        }
    }
    into.stray_rate.add(std::min(1.0, strays), 1 - std::min(1.0, strays));
}

Learned learned_from(const CameraDay& day, const Candidates& candidates, double sharing,
                     const ModelChoices& choices) {
    Learned learned(choices.link_time_s);
    for (int round = 0; round < choices.rounds; ++round) {
        const Trellis trellis(day, candidates, learned, sharing);
        Learned next = learned;
        Habits counts{};
        forward_backward(trellis, [&](std::size_t step, const Weights& posterior, const Weights& before,
                                      const Weights& behind) {
            trellis.learn_from(step, before, behind, next, counts);
            learn_tags(day.photos[step], candidates, step, by_part(posterior), next);
        });
        next.learn(counts);
        learned = next;
    }
    return learned;
}

Verdict verdict_on(const Observed& seen, const Candidates& candidates, std::size_t step,
                   const Weights& posterior, const Learned& learned) {
    const auto sums = by_part(posterior);
    Verdict verdict;
    const auto& parts = candidates.at[step];
    for (std::size_t k = 1; k < parts.size(); ++k) {
        const TagNumber& tag = candidates.tags[parts[k] - 1];
        double chance = sums[k];
        for (const SeenTag& t : seen.tags) {
            if (t.tag == tag && !seen.tag_sheet) {
                chance += (1 - chance) * chance_of_second_part(seen, t, learned);
            }
        }
        verdict.chances.emplace_back(tag, chance);
    }
    std::sort(verdict.chances.begin(), verdict.chances.end(), [](const auto& a, const auto& b) {
        return a.second != b.second ? a.second > b.second : a.first < b.first;
    });
    std::array<double, habits> by_habit{};
    for (std::size_t s = 0; s < posterior.size(); ++s) {
        by_habit[s / phases % habits] += posterior[s];
    }
    verdict.habit =
        static_cast<std::size_t>(std::max_element(by_habit.begin(), by_habit.end()) - by_habit.begin());
    return verdict;
}

}  // namespace

double Verdict::chance_of(const TagNumber& tag) const {
    const auto it =
        std::find_if(chances.begin(), chances.end(), [&](const auto& c) { return c.first == tag; });
    return it == chances.end() ? 0 : it->second;
}

std::vector<Verdict> judge(const CameraDay& day, const Company& company, const ModelChoices& choices) {
    const Candidates candidates = candidates_of(day, company);
    const Learned learned = learned_from(day, candidates, company.sharing, choices);
    const Trellis trellis(day, candidates, learned, company.sharing);
    std::vector<Verdict> verdicts(day.photos.size());
    Learned unused = learned;
    Habits counts{};
    forward_backward(trellis, [&](std::size_t step, const Weights& posterior, const Weights& before,
                                  const Weights& behind) {
        verdicts[step] = verdict_on(day.photos[step], candidates, step, posterior, learned);
        verdicts[step].same_run_as_before = trellis.learn_from(step, before, behind, unused, counts);
    });
    return verdicts;
}

}  // namespace stripbook::link
