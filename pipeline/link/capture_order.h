// The order in which one camera took its photos, and where its clock jumped: where time and file counter
// disagree.
//
//   The camera's time rules, with sub-seconds, less the UTC offset the camera wrote. Photos of one moment go
//   by DCF directory and file counter (after 9999 comes 0001, in the next directory or the same one), then by
//   file time, then by name. Where the counter goes on and the time goes back, the clock was put back: what
//   comes after stands after, whatever its time says. Counters count only where they follow the time nearly
//   everywhere: not across cards that each start at 0001, not in folders that people filled by hand.
//   Photos without an EXIF time stand by their counter, else by their file time, else by their name.
#pragma once

#include <cstddef>
#include <string>
#include <vector>

#include "book/records.h"

namespace stripbook::link {

/// The clock was set, or lost its time, between two photos.
struct ClockJump {
    std::size_t place = 0;  ///< in the order: the first photo after the jump
    double step_s = 0;      ///< the time of that photo less the time of the one before it
};

/// What a photo's time is.
enum class TimeBasis {
    exif,             ///< the camera wrote it into the photo
    counter,          ///< that of the photo beside it by the file counter
    file_time,        ///< its file time, set by what the others on its card differ from theirs
    file_time_alone,  ///< its file time as it is: UTC as far as the card's reader knew
};

struct CaptureOrder {
    std::vector<std::size_t> order;  ///< places in the photos handed in, in capture order
    /// By place in the order: the camera's clock, less the UTC offsets it wrote when `utc_offsets`.
    std::vector<double> time_s;
    std::vector<TimeBasis> basis;  ///< by place in the order
    bool utc_offsets = false;      ///< some of the photos say their UTC offset
    std::vector<ClockJump> jumps;  ///< by place, rising
    std::string rests_on;          ///< in words
};

/// `photos`: of one camera, in any order, which makes no difference to the outcome. O(n log n).
CaptureOrder capture_order(const std::vector<book::Photo>& photos);

/// The photos themselves in that order.
std::vector<book::Photo> in_capture_order(std::vector<book::Photo> photos);

/// Whether the photo carries a time that the camera wrote into it.
bool has_camera_time(const book::Photo& photo);

}  // namespace stripbook::link
