// The version of the reading station.
#pragma once

namespace stripbook::day {

/// Kept with every photo it reads. Raised when a photo may read differently than before: then `stripbook read
/// --again` knows what to read anew. 1: JPEG, PNG, TIFF. 2: HEIC, AVIF, raw files' previews, other makers'
/// tags; squares found by our own look, with the corners of scale markers kept. 3: how the photo looks.
inline constexpr int reader_version = 3;

}  // namespace stripbook::day
