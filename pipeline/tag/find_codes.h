// QR codes in a whole picture without looking at every pixel of it.
#pragma once

#include <vector>

#include "fiducial/find.h"
#include "fiducial/pyramid.h"
#include "tag/qr.h"

namespace stripbook::tag {

/// The codes that a smaller copy of the picture shows (the picture itself when it is small). `nothing_seen`:
/// neither a fiducial nor a dark square was found, so that a still smaller copy will do. Corners are in the
/// picture's frame, here and below.
std::vector<QrCode> large_qr_codes(const fiducial::Pyramid& pyramid, bool nothing_seen);

/// Adds to `codes` what full size shows where dark squares lie together: the three finder patterns of a code
/// are dark squares.
void add_small_qr_codes(const fiducial::Pyramid& pyramid, const std::vector<fiducial::UnreadSquare>& squares,
                        std::vector<QrCode>& codes);

}  // namespace stripbook::tag
