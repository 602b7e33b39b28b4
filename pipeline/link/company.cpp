#include "link/company.h"

#include <algorithm>
#include <numeric>

#include "link/known_runs.h"
#include "link/likeness.h"

namespace stripbook::link {

namespace {

std::vector<Elsewhere> other_runs(const CameraDay& day, book::CameraId camera, const KnownRuns& runs) {
    std::vector<Elsewhere> others;
    constexpr double around_s = 300;
    runs.of_others(camera, day.photos.front().seconds - around_s, day.photos.back().seconds + around_s,
                   [&](const KnownRun& r) { others.push_back(r.what); });
    return others;
}

void add_looks(const CameraDay& day, const std::vector<Verdict>& verdicts, book::CameraId camera,
               const KnownRuns& runs, CompanyLooks& looks) {
    for (std::size_t t = 0; t < day.photos.size(); ++t) {
        const Observed& o = day.photos[t];
        const auto& chances = verdicts[t].chances;
        if (chances.empty() || chances.front().second < nearly_certain) {
            continue;
        }
        runs.of_others(camera, o.seconds, o.seconds, [&](const KnownRun& r) {
            if (const auto unlike = unlikeness(r.what.look, o.from->signature)) {
                looks.add(*unlike, r.what.tag == chances.front().first);
            }
        });
    }
}

// One for each day; the same for all days that go on at one time, or hang together by others.
std::vector<CompanyLooks> looks_of(const CameraDays& days, const std::vector<std::vector<Verdict>>& verdicts,
                                   const KnownRuns& runs) {
    std::vector<std::size_t> by_start(days.days.size());
    std::iota(by_start.begin(), by_start.end(), std::size_t{0});
    const auto start_of = [&](std::size_t d) { return days.days[d].photos.front().seconds; };
    std::sort(by_start.begin(), by_start.end(),
              [&](std::size_t a, std::size_t b) { return start_of(a) < start_of(b); });
    std::vector<CompanyLooks> looks(days.days.size());
    for (std::size_t first = 0; first < by_start.size();) {
        CompanyLooks together;
        double end_s = start_of(by_start[first]);
        std::size_t last = first;
        for (; last < by_start.size() && start_of(by_start[last]) <= end_s; ++last) {
            const std::size_t d = by_start[last];
            end_s = std::max(end_s, days.days[d].photos.back().seconds);
            add_looks(days.days[d], verdicts[d], days.camera_of_day[d], runs, together);
        }
        together.learn();
        for (; first < last; ++first) {
            looks[by_start[first]] = together;
        }
    }
    return looks;
}

double sharing_of(const CameraDay& day, book::CameraId camera, const KnownRuns& runs) {
    // One in ten, worth four runs, before the day has shown any (judgement, no source).
    double same = 0.4;
    double all = 4;
    runs.during(day.photos.front().seconds, day.photos.back().seconds, [&](const KnownRun& own) {
        if (own.camera != camera) {
            return;
        }
        bool overlaps = false;
        bool shared = false;
        runs.of_others(camera, own.what.from_s, own.what.to_s, [&](const KnownRun& r) {
            overlaps = true;
            shared = shared || r.what.tag == own.what.tag;
        });
        all += overlaps ? 1 : 0;
        same += shared ? 1 : 0;
    });
    // Who joins another at a part often leaves the tag to the other; who is alone seldom forgets it.
    constexpr double no_tag_in_company = 0.5;
    constexpr double no_tag_alone = 0.05;
    const double share = same / all;
    return share * no_tag_in_company / (share * no_tag_in_company + (1 - share) * no_tag_alone);
}

}  // namespace

std::vector<Company> companies_of(const CameraDays& days, const std::vector<std::vector<Verdict>>& verdicts) {
    const KnownRuns runs = known_runs(days, verdicts);
    const auto looks = looks_of(days, verdicts, runs);
    std::vector<Company> companies;
    for (std::size_t d = 0; d < days.days.size(); ++d) {
        const book::CameraId camera = days.camera_of_day[d];
        companies.push_back(
            {other_runs(days.days[d], camera, runs), sharing_of(days.days[d], camera, runs), looks[d]});
    }
    return companies;
}

}  // namespace stripbook::link
