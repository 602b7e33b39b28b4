// The book's photos parted into days of one camera each, in capture order.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "link/day_model.h"

namespace stripbook::link {

struct CameraDays {
    std::vector<PhotoSightings> photos;  ///< videos in their places; what `days` points into
    std::vector<CameraDay> days;
    std::vector<book::CameraId> camera_of_day;
    /// Of the videos that have no place and are a day of their own: why.
    std::map<book::PhotoNumber, std::string> without_place;
};

/// A camera that rests this long has ended its day.
inline constexpr double night_s = 4 * 3600;

CameraDays camera_days(const std::vector<PhotoSightings>& photos, const number::BookCode& here,
                       const Rules& rules);

}  // namespace stripbook::link
