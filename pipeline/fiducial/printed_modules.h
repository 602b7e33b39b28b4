// The black and white squares of a fiducial, as printed.
#pragma once

#include <opencv2/core.hpp>

#include "fiducial/find.h"

namespace stripbook::fiducial {

/// One byte a module, 1 = black, black border included (8 x 8 or 7 x 7), upright in the sense of find.h. Row
/// 0 is the top, column 0 the left. Throws WrongUse when the family has no such identity.
cv::Mat1b printed_modules(Family family, int identity);

/// `modules` turned clockwise by `quarters` x 90 degrees.
cv::Mat1b turned_clockwise(const cv::Mat1b& modules, int quarters);

}  // namespace stripbook::fiducial
