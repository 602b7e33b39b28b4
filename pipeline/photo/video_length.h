// Whether a video file is as long as its own head says.
#pragma once

#include <string>

namespace stripbook::photo {

/// True when a box of an ISO base media file (ISO/IEC 14496-12, 4.2) or the RIFF chunk of an AVI reaches
/// behind the end of the file, as after a card pulled too early. Other formats do not say their length:
/// false.
bool ends_too_early(const std::string& path);

}  // namespace stripbook::photo
