// What linking was before the model: for comparison.
#pragma once

#include "link/assign.h"

namespace stripbook::bench {

link::Assignment simple_rule(const std::vector<link::PhotoSightings>& photos, const number::BookCode& here,
                             const link::Rules& rules);

}  // namespace stripbook::bench
