// The printed codes as black rectangles in millimetres.
#pragma once

#include <string>
#include <vector>

#include "fiducial/find.h"
#include "number/tag_layout.h"
#include "print/sheet.h"

namespace stripbook::print {

/// The black modules of a square grid (1 = black) filling `box`, neighbours in a row merged.
std::vector<BoxMm> module_rectangles(const cv::Mat1b& modules, const BoxMm& box);

/// A square of `side` around `centre`.
BoxMm square_around(number::PointMm centre, double side);

/// A fiducial as printed: its black square fills `box`, turned clockwise by `quarters` x 90 degrees.
std::vector<BoxMm> fiducial_rectangles(fiducial::Family family, int identity, int quarters, const BoxMm& box);

}  // namespace stripbook::print
