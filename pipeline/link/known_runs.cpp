#include "link/known_runs.h"

#include <algorithm>
#include <tuple>

#include "link/likeness.h"

namespace stripbook::link {

namespace {

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

KnownRuns::KnownRuns(std::vector<KnownRun> runs) : runs_(std::move(runs)) {
    std::sort(runs_.begin(), runs_.end(), [](const KnownRun& a, const KnownRun& b) {
        return std::tie(a.what.from_s, a.what.to_s, a.camera, a.what.tag) <
               std::tie(b.what.from_s, b.what.to_s, b.camera, b.what.tag);
    });
    for (const KnownRun& run : runs_) {
        latest_end_.push_back(latest_end_.empty() ? run.what.to_s
                                                  : std::max(latest_end_.back(), run.what.to_s));
    }
}

std::size_t KnownRuns::begun_by(double s) const {
    const auto it = std::upper_bound(runs_.begin(), runs_.end(), s,
                                     [](double at, const KnownRun& r) { return at < r.what.from_s; });
    return static_cast<std::size_t>(it - runs_.begin());
}

KnownRuns known_runs(const CameraDays& days, const std::vector<std::vector<Verdict>>& verdicts) {
    std::vector<KnownRun> runs;
    for (std::size_t d = 0; d < days.days.size(); ++d) {
        add_runs(days.days[d], verdicts[d], days.camera_of_day[d], runs);
    }
    return KnownRuns(std::move(runs));
}

}  // namespace stripbook::link
