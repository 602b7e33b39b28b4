// The second look: once a fiducial of a tag is read, the others and the QR code are read where they must be.
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "tag/group.h"
#include "tag/qr.h"

namespace stripbook::tag {

/// Reads missing fiducials of a group of one or two in their places, until it has three. A fiducial read so
/// counts like one that was found; by chance a random dark square passes in about 2 % of cases, and then
/// contradicts the others rather than agreeing with them (in 586 of 587). `grey` is the picture the group was
/// found in. A lone fiducial is tried at corners 0 and 1; half a turn makes no difference to the layout.
void add_fiducials_in_place(const cv::Mat& grey, Group& group);

/// The QR code of a group of two or more, read from the straightened patch; both corner assignments are
/// tried. Its corners are where the layout puts them.
std::optional<QrCode> read_qr_in_place(const cv::Mat& grey, const Group& group);

}  // namespace stripbook::tag
