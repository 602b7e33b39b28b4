// The order in which one camera took its photos.
#pragma once

#include <vector>

#include "book/records.h"

namespace stripbook::link {

/// Photos of one camera in capture order: by the camera's time with sub-seconds; where times are equal, by
/// the file counter with its roll-over (after 9999 comes 0001, in the next DCF folder or the same one); last
/// by photo number. Camera clocks are trusted here; jumps are another matter.
std::vector<book::Photo> in_capture_order(std::vector<book::Photo> photos);

}  // namespace stripbook::link
