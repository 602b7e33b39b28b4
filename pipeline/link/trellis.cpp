#include "link/trellis.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <span>
#include <tuple>

#include "link/likeness.h"

namespace stripbook::link {

namespace {

using number::TagNumber;

// Shares of the runs, judgement, no source. Of those that show their tag: it is never read. Of those that do
// not: it is of a part whose tag this camera shows near by.
constexpr double tag_not_read = 0.07;
constexpr double comes_back = 0.15;
// A day that ends before the tag that was to come.
constexpr double ends_before_tag = 0.02;
// Another camera's run, made this much longer at both ends: clocks and the walk round the part.
constexpr double company_s = 60;
constexpr std::size_t parts_each_way = 3;
constexpr std::size_t most_company = 3;
constexpr double fewest_names = 8;

using PhaseList = std::span<const std::size_t>;
constexpr PhaseList no_phases;

// The phases that a phase can follow in one run (habit.h): the others' chances are zero.
PhaseList phases_before(std::size_t phase) {
    static constexpr std::array<std::size_t, 3> tagged{first_tag, after_first, again_tag};
    static constexpr std::array<std::size_t, 5> again{first_tag, after_first, again_tag, late_tag,
                                                      after_late};
    static constexpr std::array<std::size_t, 1> untagged{before};
    static constexpr std::array<std::size_t, 2> late{late_tag, after_late};
    static constexpr std::array<std::size_t, 1> without{never};
    static constexpr std::array<PhaseList, phases> lists{no_phases, tagged, again,  untagged,
                                                         untagged,  late,   without};
    return lists[phase];
}

void put_once(std::vector<std::size_t>& list, std::size_t part) {
    if (std::find(list.begin(), list.end(), part) == list.end()) {
        list.push_back(part);
    }
}

// Two cameras at one part: the look that speaks for it counts.
void put_once(std::vector<Candidates::InCompany>& list, const Candidates::InCompany& one) {
    const auto known =
        std::find_if(list.begin(), list.end(), [&](const auto& other) { return other.part == one.part; });
    if (known == list.end()) {
        list.push_back(one);
    } else {
        known->by_looks = std::max(known->by_looks, one.by_looks);
    }
}

// Every part that this photo itself names.
std::vector<TagNumber> named_in(const Observed& o) {
    std::vector<TagNumber> names = o.from->linked_by_person;
    if (!o.tag_sheet) {
        for (const SeenTag& t : o.tags) {
            names.push_back(t.tag);
        }
        names.insert(names.end(), o.suggestions.begin(), o.suggestions.end());
    }
    return names;
}

// The latest distinct parts named up to each photo, walking one way.
template <typename Step>
void gather(const std::vector<std::vector<std::size_t>>& named, Candidates& candidates, Step step) {
    std::vector<std::size_t> latest;
    for (std::size_t i = 0; i < named.size(); ++i) {
        const std::size_t t = step(i);
        for (const std::size_t part : named[t]) {
            latest.erase(std::remove(latest.begin(), latest.end(), part), latest.end());
            latest.push_back(part);
        }
        // A photo's own names all count.
        const std::size_t keep = std::max(parts_each_way, named[t].size());
        if (latest.size() > keep) {
            latest.erase(latest.begin(), latest.end() - static_cast<std::ptrdiff_t>(keep));
        }
        for (const std::size_t part : latest) {
            put_once(candidates.at[t], part);
        }
    }
}

}  // namespace

Candidates candidates_of(const CameraDay& day, const Company& company) {
    Candidates candidates;
    std::map<TagNumber, std::size_t> place;
    const auto part_of = [&](const TagNumber& tag) {
        const auto [it, is_new] = place.emplace(tag, candidates.tags.size() + 1);
        if (is_new) {
            candidates.tags.push_back(tag);
        }
        return it->second;
    };
    const std::size_t count = day.photos.size();
    candidates.at.assign(count, {0});
    candidates.elsewhere.resize(count);
    std::vector<std::vector<std::size_t>> named(count);
    for (std::size_t t = 0; t < count; ++t) {
        for (const TagNumber& tag : named_in(day.photos[t])) {
            named[t].push_back(part_of(tag));
        }
    }
    gather(named, candidates, [](std::size_t i) { return i; });
    gather(named, candidates, [count](std::size_t i) { return count - 1 - i; });
    std::vector<const Elsewhere*> by_start;
    double longest_s = 0;
    for (const Elsewhere& e : company.runs) {
        by_start.push_back(&e);
        longest_s = std::max(longest_s, e.to_s - e.from_s);
    }
    std::sort(by_start.begin(), by_start.end(), [](const Elsewhere* a, const Elsewhere* b) {
        return std::tie(a->from_s, a->tag) < std::tie(b->from_s, b->tag);
    });
    for (std::size_t t = 0; t < count; ++t) {
        const double at_s = day.photos[t].seconds;
        auto it = std::lower_bound(by_start.begin(), by_start.end(), at_s - longest_s - company_s,
                                   [](const Elsewhere* e, double s) { return e->from_s < s; });
        for (; it != by_start.end() && (*it)->from_s <= at_s + company_s &&
               candidates.elsewhere[t].size() < most_company;
             ++it) {
            if (at_s <= (*it)->to_s + company_s) {
                const std::size_t part = part_of((*it)->tag);
                const auto unlike = unlikeness((*it)->look, day.photos[t].from->signature);
                put_once(candidates.elsewhere[t], {part, unlike ? company.looks.for_same_part(*unlike) : 1});
                put_once(candidates.at[t], part);
            }
        }
    }
    return candidates;
}

Trellis::Trellis(const CameraDay& day, const Candidates& candidates, const Learned& learned, double sharing)
    : learned_(learned),
      sharing_(sharing),
      same_name_(1 / std::max(fewest_names, static_cast<double>(candidates.tags.size()))),
      steps_(day.photos.size()) {
    for (std::size_t t = 0; t < steps_.size(); ++t) {
        const Observed& seen = day.photos[t];
        const auto& parts = candidates.at[t];
        Step& step = steps_[t];
        step.candidates.resize(parts.size());
        for (std::size_t k = 0; k < parts.size(); ++k) {
            const TagNumber* tag = parts[k] == 0 ? nullptr : &candidates.tags[parts[k] - 1];
            step.candidates[k].seen = chances_of_seen(seen, tag, learned, same_name_);
            if (t > 0) {
                const auto& before = candidates.at[t - 1];
                const auto it = std::find(before.begin(), before.end(), parts[k]);
                step.candidates[k].before =
                    it == before.end() ? none : static_cast<std::size_t>(it - before.begin());
            }
        }
        set_starts(step, parts, candidates.elsewhere[t]);
        if (t > 0) {
            step.gap_s = seen.seconds - day.photos[t - 1].seconds;
            step.unlike = unlikeness(day.photos[t - 1].from->signature, seen.from->signature);
            step.within = learned.gap_density(step.gap_s, true);
            step.between = learned.gap_density(step.gap_s, false);
            if (step.unlike) {
                step.within *= learned.unlike_density(*step.unlike, true);
                step.between *= learned.unlike_density(*step.unlike, false);
            }
        }
    }
}

void Trellis::set_starts(Step& step, const std::vector<std::size_t>& parts,
                         const std::vector<Candidates::InCompany>& company) const {
    const double others = static_cast<double>(parts.size() - 1);
    const double shared = company.empty() ? 0 : sharing_;
    for (std::size_t k = 0; k < parts.size(); ++k) {
        Candidate& c = step.candidates[k];
        if (parts[k] == 0) {
            c.starts_with_tag = tag_not_read;
            c.starts_without = (1 - shared) * (others > 0 ? 1 - comes_back : 1);
            continue;
        }
        c.starts_with_tag = (1 - tag_not_read) * same_name_;
        c.starts_without = (1 - shared) * comes_back / others;
        for (const auto& one : company) {
            // How it looks is evidence: against every other way that the run may have begun.
            const double before_looks = shared / static_cast<double>(company.size());
            c.starts_without += one.part == parts[k] ? before_looks * one.by_looks : 0;
        }
    }
}

double Trellis::seen(std::size_t step, std::size_t candidate, std::size_t phase) const {
    const Candidate& c = steps_[step].candidates[candidate];
    return shows_tag(phase) ? c.seen.in_tag_shot : c.seen.elsewhere;
}

double Trellis::start(std::size_t step, std::size_t candidate, std::size_t habit, std::size_t phase) const {
    const Candidate& c = steps_[step].candidates[candidate];
    return learned_.habit[habit].start[phase] * (phase == never ? c.starts_without : c.starts_with_tag);
}

// The weight of runs that end before this step, by the habit of the run that begins.
std::array<double, habits> Trellis::ended(const Weights& before) const {
    if (before.empty()) {
        return habit_at_start;
    }
    std::array<double, habits> by_habit{};
    double all = 0;
    for (std::size_t s = 0; s < before.size(); ++s) {
        const std::size_t habit = s / phases % habits;
        const double end = before[s] * learned_.habit[habit].next[s % phases][run_ends];
        by_habit[habit] += end;
        all += end;
    }
    constexpr double changed = (1 - habit_kept) / (habits - 1);
    for (double& h : by_habit) {
        h = habit_kept * h + changed * (all - h);
    }
    return by_habit;
}

Weights Trellis::forward(std::size_t step, const Weights& before) const {
    const Step& now = steps_[step];
    const auto begins = ended(before);
    Weights weights(now.candidates.size() * states_of_part, 0);
    for (std::size_t k = 0; k < now.candidates.size(); ++k) {
        const std::size_t from = before.empty() ? none : now.candidates[k].before;
        for (std::size_t h = 0; h < habits; ++h) {
            for (std::size_t p = 0; p < phases; ++p) {
                const double see = seen(step, k, p);
                if (see <= 0) {
                    continue;
                }
                double goes_on = 0;
                for (const std::size_t q : from == none ? no_phases : phases_before(p)) {
                    goes_on += before[state(from, h, q)] * learned_.habit[h].next[q][p];
                }
                weights[state(k, h, p)] =
                    see * (goes_on * now.within + begins[h] * now.between * start(step, k, h, p));
            }
        }
    }
    return weights;
}

Weights Trellis::backward(std::size_t step, const Weights& behind) const {
    const Step& now = steps_[step];
    std::array<double, habits> begins{};
    for (std::size_t k = 0; k < now.candidates.size(); ++k) {
        for (std::size_t h = 0; h < habits; ++h) {
            for (std::size_t p = 0; p < phases; ++p) {
                begins[h] += now.between * start(step, k, h, p) * seen(step, k, p) * behind[state(k, h, p)];
            }
        }
    }
    double all = 0;
    for (const double b : begins) {
        all += b;
    }
    Weights weights(steps_[step - 1].candidates.size() * states_of_part, 0);
    constexpr double changed = (1 - habit_kept) / (habits - 1);
    for (std::size_t s = 0; s < weights.size(); ++s) {
        const std::size_t h = s / phases % habits;
        weights[s] = learned_.habit[h].next[s % phases][run_ends] *
                     (habit_kept * begins[h] + changed * (all - begins[h]));
    }
    for (std::size_t k = 0; k < now.candidates.size(); ++k) {
        const std::size_t from = now.candidates[k].before;
        for (std::size_t h = 0; from != none && h < habits; ++h) {
            for (std::size_t p = 0; p < phases; ++p) {
                const double ahead = now.within * seen(step, k, p) * behind[state(k, h, p)];
                for (const std::size_t q : phases_before(p)) {
                    weights[state(from, h, q)] += ahead * learned_.habit[h].next[q][p];
                }
            }
        }
    }
    return weights;
}

Weights Trellis::at_end() const {
    Weights weights(steps_.back().candidates.size() * states_of_part, 1);
    for (std::size_t s = 0; s < weights.size(); ++s) {
        if (s % phases == before) {
            weights[s] = ends_before_tag;
        }
    }
    return weights;
}

double Trellis::learn_from(std::size_t step, const Weights& before_weights, const Weights& behind,
                           Learned& into, Habits& counts) const {
    const Step& now = steps_[step];
    const auto begins = ended(before_weights);
    Habits here{};
    double within = 0;
    double between = 0;
    for (std::size_t k = 0; k < now.candidates.size(); ++k) {
        const std::size_t from = before_weights.empty() ? none : now.candidates[k].before;
        for (std::size_t h = 0; h < habits; ++h) {
            for (std::size_t p = 0; p < phases; ++p) {
                const double ahead = seen(step, k, p) * behind[state(k, h, p)];
                if (ahead <= 0) {
                    continue;
                }
                for (const std::size_t q : from == none ? no_phases : phases_before(p)) {
                    const double way =
                        before_weights[state(from, h, q)] * learned_.habit[h].next[q][p] * now.within * ahead;
                    here[h].next[q][p] += way;
                    within += way;
                }
                const double way = begins[h] * now.between * start(step, k, h, p) * ahead;
                here[h].start[p] += way;
                between += way;
            }
        }
    }
    const double all = within + between;
    if (all <= 0) {
        return 0;
    }
    // Which phase a run ended in, before this photo.
    for (std::size_t s = 0; s < before_weights.size(); ++s) {
        const std::size_t h = s / phases % habits;
        const double end = before_weights[s] * learned_.habit[h].next[s % phases][run_ends];
        const double its_share = begins[h] > 0 ? end / begins[h] : 0;
        double begun = 0;
        for (std::size_t p = 0; p < phases; ++p) {
            begun += here[h].start[p];
        }
        here[h].next[s % phases][run_ends] += begun * its_share;
    }
    for (std::size_t h = 0; h < habits; ++h) {
        for (std::size_t p = 0; p < phases; ++p) {
            counts[h].start[p] += here[h].start[p] / all;
            for (std::size_t q = 0; q <= phases; ++q) {
                counts[h].next[p][q] += here[h].next[p][q] / all;
            }
        }
    }
    if (!before_weights.empty()) {
        into.add_gap(now.gap_s, within / all);
        if (now.unlike) {
            into.add_unlike(*now.unlike, within / all);
        }
    }
    return within / all;
}

}  // namespace stripbook::link
