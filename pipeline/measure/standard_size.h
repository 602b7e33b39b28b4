// The nearest standard size beside a hole: a hint, never an identification.
#pragma once

#include <string>
#include <vector>

namespace stripbook::measure {

struct StandardSize {
    std::string name;  ///< `M8 clearance, medium (ISO 273)`
    double diameter_mm = 0;
};

/// Clearance holes (ISO 273) M6 to M16; major and minor diameters of BSW (BS 84) and UNC (ASME B1.1) threads.
const std::vector<StandardSize>& standard_hole_sizes();

/// Those whose diameter lies within `expanded` of the measured one, nearest first, at most three.
std::vector<StandardSize> nearest_standard_sizes(double diameter_mm, double expanded);

}  // namespace stripbook::measure
