// What a measurement keeps back because a number could be wrong, and says so. What remains is numbered anew.
#pragma once

#include <string>
#include <vector>

#include "measure/find_holes.h"
#include "measure/part.h"

namespace stripbook::measure {

/// Takes the outline and its dimensions out. `reason`: for the reader.
void without_outline(PartMeasurement& part, std::string reason);

/// Takes diameters and centre distances of doubtful holes out, with a note for each hole. It keeps its
/// number, and its place in a bolt circle. `holes`: the part's, in its order.
void without_doubtful_holes(PartMeasurement& part, const std::vector<RoundHole>& holes);

}  // namespace stripbook::measure
