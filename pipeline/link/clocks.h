// The cameras' clocks against true time, and when each photo was really taken: docs/clocks.md.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/cameras.h"
#include "book/records.h"
#include "link/clocks_between.h"
#include "link/clocks_zone.h"

namespace stripbook::link {

/// A photo of the running clock that `stripbook clock` shows.
struct ClockShot {
    book::PhotoNumber photo;
    double utc_s = 0;  ///< what the picture in it says, to the second
};

/// The true time in the text of a clock shot ("TIME 2026-03-20T08:58:15Z", RFC 3339 with any offset), seconds
/// since 1970 UTC; nothing when it is none.
std::optional<double> utc_of_clock_shot(const std::string& text);

struct TagSeen {
    book::PhotoNumber photo;
    std::string tag;
};

/// All there is to know about one camera's clock.
struct CameraEvidence {
    book::CameraId camera;
    std::vector<book::Photo> photos;  ///< in any order
    std::vector<ClockShot> shots;
    std::vector<book::ClockWord> words;  ///< that hold, oldest first
    std::vector<TagSeen> tags;           ///< read for sure
};

struct Clocks {
    std::vector<book::TrueTime> times;     ///< of every photo, by number
    std::vector<book::ClockPiece> pieces;  ///< by camera and number
};

/// `workshop`: the zone that clocks without a UTC offset are taken to show, and that corrected times are in.
/// The order of cameras, photos, shots and tags makes no difference. O(n log n).
Clocks true_times(const std::vector<CameraEvidence>& cameras, const Zone& workshop);

}  // namespace stripbook::link
