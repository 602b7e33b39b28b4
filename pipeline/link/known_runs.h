// What each camera was at when, as its own day tells it.
#pragma once

#include <vector>

#include "link/camera_days.h"

namespace stripbook::link {

/// Of a posterior: a photo's part is told from here on.
inline constexpr double nearly_certain = 0.95;

struct KnownRun {
    Elsewhere what;
    book::CameraId camera;
};

/// Runs of all cameras, by when they began.
class KnownRuns {
  public:
    explicit KnownRuns(std::vector<KnownRun> runs);
    /// Those that touch the time from `from_s` to `to_s`, the latest first. The work grows with how many runs
    /// are going on then.
    template <typename Use>
    void during(double from_s, double to_s, Use use) const {
        for (std::size_t i = begun_by(to_s); i > 0 && latest_end_[i - 1] >= from_s; --i) {
            if (runs_[i - 1].what.to_s >= from_s) {
                use(runs_[i - 1]);
            }
        }
    }
    /// The same of other cameras.
    template <typename Use>
    void of_others(book::CameraId camera, double from_s, double to_s, Use use) const {
        during(from_s, to_s, [&](const KnownRun& run) {
            if (run.camera != camera) {
                use(run);
            }
        });
    }

  private:
    [[nodiscard]] std::size_t begun_by(double s) const;
    std::vector<KnownRun> runs_;
    std::vector<double> latest_end_;  ///< of the runs up to each
};

/// Runs whose part is nearly certain and whose tag the camera itself showed. `verdicts`: on each day alone.
KnownRuns known_runs(const CameraDays& days, const std::vector<std::vector<Verdict>>& verdicts);

}  // namespace stripbook::link
