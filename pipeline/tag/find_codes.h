// QR codes in a whole picture without looking at every pixel of it.
#pragma once

#include <vector>

#include "fiducial/find.h"
#include "fiducial/pyramid.h"
#include "tag/qr.h"

namespace stripbook::tag {

/// Large codes are read in a smaller copy of the picture, small ones where dark squares lie together (the
/// three finder patterns of a QR code are dark squares). Corners are in the picture's frame.
std::vector<QrCode> find_qr_codes(const fiducial::Pyramid& pyramid, const fiducial::Look& look);

}  // namespace stripbook::tag
