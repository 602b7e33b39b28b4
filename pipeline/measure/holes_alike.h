// Holes of nearly one size in one part are drilled alike: what the others say of one of them.
#pragma once

#include <vector>

#include "measure/hole_edge.h"

namespace stripbook::measure {

/// A face's edge is taken for the rim more easily than the other way round: where a hole comes out clearly
/// larger than the narrower quarter of those like it, a rim is looked for there. One that then is clearly
/// narrower than most has a shadow's border for its rim. Where none is found the hole stays as it was.
void look_again_among_alike(const FaceView& view, const HoleLooks& looks, std::vector<HoleEdge>& holes);

/// Where three holes or more are alike: one whose second reading is as large as most of them and whose first
/// is not takes the second; one whose first is as large as they are has no other reading.
void take_reading_of_alikes(std::vector<HoleEdge>& holes);

/// By how much one of the radii (mm) is larger than the middle of those like it, where three or more agree
/// and it is off by more than 0.2 mm; 0 else. It is another size, or its edge was taken wrongly: a photo
/// does not tell.
double unlike_those_alike(const std::vector<double>& radii_mm, double one_mm);

/// The standard deviation of the radii (mm) within 15 % of one of them. Of two only if they differ by less
/// than 0.275 mm and 6 %: else they may well be two sizes. 0 for one.
double scatter_of_alike(const std::vector<double>& radii_mm, double one_mm);

}  // namespace stripbook::measure
