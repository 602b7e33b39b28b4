#include "measure/second_reading.h"

#include <algorithm>
#include <cmath>

namespace stripbook::measure {

ReadingsApart readings_apart(const PartSeen& seen, const Extent& extent, const scale::Plane& plane,
                             const Heights& heights) {
    ReadingsApart apart;
    if (seen.read_otherwise.empty()) {
        return apart;
    }
    const Extent other = extent_of(outline_mm(seen.read_otherwise, plane, heights));
    apart.length_mm = std::abs(other.length_mm - extent.length_mm);
    apart.width_mm = std::abs(other.width_mm - extent.width_mm);
    apart.largest_mm = std::abs(other.largest_mm - extent.largest_mm);
    apart.area_mm2 = std::abs(other.area_mm2 - extent.area_mm2);
    const auto too_far = [](double apart_mm, double size_mm) {
        constexpr double least_mm = 0.75;
        constexpr double share = 0.01;
        return apart_mm > std::max(least_mm, share * size_mm);
    };
    apart.too_far = too_far(apart.length_mm, extent.length_mm) || too_far(apart.width_mm, extent.width_mm);
    return apart;
}

}  // namespace stripbook::measure
