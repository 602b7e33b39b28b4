#include "link/company.h"

#include <algorithm>
#include <tuple>

#include "link/likeness.h"

namespace stripbook::link {

namespace {

constexpr double nearly_certain = 0.95;

// Runs of `all` (by start) that touch the time, except this camera's.
template <typename Use>
void for_overlapping(const std::vector<KnownRun>& all, double from_s, double to_s, book::CameraId camera,
                     double longest_s, Use use) {
    auto it = std::lower_bound(all.begin(), all.end(), from_s - longest_s,
                               [](const KnownRun& r, double s) { return r.what.from_s < s; });
    for (; it != all.end() && it->what.from_s <= to_s; ++it) {
        if (it->camera != camera && it->what.to_s >= from_s) {
            use(*it);
        }
    }
}

double longest_of(const std::vector<KnownRun>& runs) {
    double longest_s = 0;
    for (const KnownRun& r : runs) {
        longest_s = std::max(longest_s, r.what.to_s - r.what.from_s);
    }
    return longest_s;
}

bool shows(const Observed& o, const number::TagNumber& tag) {
    return std::any_of(o.tags.begin(), o.tags.end(), [&](const SeenTag& t) { return t.tag == tag; });
}

void add_runs(const CameraDay& day, const std::vector<Verdict>& verdicts, book::CameraId camera,
              std::vector<KnownRun>& runs) {
    bool goes_on = false;
    bool has_tag = false;
    CommonLook look;
    const auto end = [&] {
        if (goes_on && !has_tag) {
            runs.pop_back();
        } else if (goes_on) {
            runs.back().what.look = look.signature();
        }
        goes_on = has_tag = false;
        look = {};
    };
    for (std::size_t t = 0; t < day.photos.size(); ++t) {
        const Observed& o = day.photos[t];
        const auto& chances = verdicts[t].chances;
        const bool certain = !chances.empty() && chances.front().second >= nearly_certain;
        if (goes_on && (!certain || chances.front().first != runs.back().what.tag ||
                        verdicts[t].same_run_as_before < 0.5)) {
            end();
        }
        if (certain && !goes_on) {
            runs.push_back({{o.seconds, o.seconds, chances.front().first, {}}, camera});
            goes_on = true;
        }
        if (goes_on) {
            runs.back().what.to_s = std::max(runs.back().what.to_s, o.seconds);
            has_tag = has_tag || shows(o, runs.back().what.tag);
            look.add(o.from->signature);
        }
    }
    end();
}

}  // namespace

std::vector<KnownRun> known_runs(const CameraDays& days, const std::vector<std::vector<Verdict>>& verdicts) {
    std::vector<KnownRun> runs;
    for (std::size_t d = 0; d < days.days.size(); ++d) {
        add_runs(days.days[d], verdicts[d], days.camera_of_day[d], runs);
    }
    std::sort(runs.begin(), runs.end(), [](const KnownRun& a, const KnownRun& b) {
        return std::tie(a.what.from_s, a.what.to_s, a.camera, a.what.tag) <
               std::tie(b.what.from_s, b.what.to_s, b.camera, b.what.tag);
    });
    return runs;
}

namespace {

std::vector<Elsewhere> other_runs(const CameraDay& day, book::CameraId camera,
                                  const std::vector<KnownRun>& runs) {
    std::vector<Elsewhere> others;
    constexpr double around_s = 300;
    for_overlapping(runs, day.photos.front().seconds - around_s, day.photos.back().seconds + around_s, camera,
                    longest_of(runs), [&](const KnownRun& r) { others.push_back(r.what); });
    return others;
}

void add_looks(const CameraDay& day, const std::vector<Verdict>& verdicts, book::CameraId camera,
               const std::vector<KnownRun>& runs, double longest_s, CompanyLooks& looks) {
    for (std::size_t t = 0; t < day.photos.size(); ++t) {
        const Observed& o = day.photos[t];
        const auto& chances = verdicts[t].chances;
        if (chances.empty() || chances.front().second < nearly_certain) {
            continue;
        }
        for_overlapping(runs, o.seconds, o.seconds, camera, longest_s, [&](const KnownRun& r) {
            if (const auto unlike = unlikeness(r.what.look, o.from->signature)) {
                looks.add(*unlike, r.what.tag == chances.front().first);
            }
        });
    }
}

bool at_one_time(const CameraDay& a, const CameraDay& b) {
    return a.photos.front().seconds <= b.photos.back().seconds &&
           b.photos.front().seconds <= a.photos.back().seconds;
}

CompanyLooks looks_of(const CameraDays& days, std::size_t day,
                      const std::vector<std::vector<Verdict>>& verdicts, const std::vector<KnownRun>& runs) {
    CompanyLooks looks;
    const double longest_s = longest_of(runs);
    for (std::size_t d = 0; d < days.days.size(); ++d) {
        if (at_one_time(days.days[d], days.days[day])) {
            add_looks(days.days[d], verdicts[d], days.camera_of_day[d], runs, longest_s, looks);
        }
    }
    looks.learn();
    return looks;
}

double sharing_of(const CameraDay& day, book::CameraId camera, const std::vector<KnownRun>& runs) {
    // One in ten, worth four runs, before the day has shown any (judgement, no source).
    double same = 0.4;
    double all = 4;
    const double longest_s = longest_of(runs);
    for (const KnownRun& own : runs) {
        if (own.camera != camera || own.what.to_s < day.photos.front().seconds ||
            own.what.from_s > day.photos.back().seconds) {
            continue;
        }
        bool overlaps = false;
        bool shared = false;
        for_overlapping(runs, own.what.from_s, own.what.to_s, camera, longest_s, [&](const KnownRun& r) {
            overlaps = true;
            shared = shared || r.what.tag == own.what.tag;
        });
        all += overlaps ? 1 : 0;
        same += shared ? 1 : 0;
    }
    // Who joins another at a part often leaves the tag to the other; who is alone seldom forgets it.
    constexpr double no_tag_in_company = 0.5;
    constexpr double no_tag_alone = 0.05;
    const double share = same / all;
    return share * no_tag_in_company / (share * no_tag_in_company + (1 - share) * no_tag_alone);
}

}  // namespace

Company company_of(const CameraDays& days, std::size_t day, const std::vector<std::vector<Verdict>>& verdicts,
                   const std::vector<KnownRun>& runs) {
    const book::CameraId camera = days.camera_of_day[day];
    return {other_runs(days.days[day], camera, runs), sharing_of(days.days[day], camera, runs),
            looks_of(days, day, verdicts, runs)};
}

}  // namespace stripbook::link
