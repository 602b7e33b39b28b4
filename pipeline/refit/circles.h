// Circles among what people said.
#pragma once

#include <vector>

#include "refit/order.h"
#include "refit/step_graph.h"

namespace stripbook::refit {

/// Circles among the steps that have no place, no two of which share a step; every other circle shares one
/// with them. Takes time in proportion to steps and words.
std::vector<Circle> circles_among(const StepGraph& graph, const std::vector<bool>& has_place);

}  // namespace stripbook::refit
