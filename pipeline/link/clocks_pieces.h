// One camera's photos in capture order with the time its clock says in UTC, parted where the clock was set.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "link/capture_order.h"
#include "link/clocks_zone.h"

namespace stripbook::link {

/// A photo's time as its clock says it, in UTC if the clock is right.
struct ClockReading {
    std::size_t photo = 0;  ///< place in the photos handed in
    double said_utc_s = 0;
    TimeBasis basis = TimeBasis::exif;
    double doubt_s = 0;  ///< how much an open question may change it (summer time)
    std::string note;    ///< that question, or what was found
};

/// A stretch over which the clock ran undisturbed.
struct ClockStretch {
    std::vector<ClockReading> readings;
    std::string began;       ///< why it begins here; empty: the first photo
    bool lost_time = false;  ///< the clock fell back to some first of January: it says nothing
};

struct ClockRun {
    std::vector<ClockStretch> stretches;
    bool utc_offsets = false;
    std::string rests_on;  ///< what the order rests on
};

/// Clocks without UTC offsets are read as local time in `workshop`. A jump back that summer time explains
/// (an hour less what passed, after clocks were put back) does not part stretches; neither does a clock that
/// was not put forward and later was.
ClockRun clock_run(const std::vector<book::Photo>& photos, const Zone& workshop);

}  // namespace stripbook::link
