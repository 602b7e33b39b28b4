// Times as Exif writes them (CIPA DC-008): local to the camera, without a zone.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace stripbook::photo {

/// "2026:03:20 08:58:15" and the sub-second digits "83" as "2026-03-20T08:58:15.83"; empty when blank, all
/// zeros or no date of the calendar. The digits stand right of the point, so "07" is 0.07 s.
std::string time_of_exif(std::string_view date_and_time, std::string_view sub_second);

/// "+01:00" as it is; empty when it is no offset between -12:00 and +14:00.
std::string offset_of_exif(std::string_view offset);

}  // namespace stripbook::photo
