#include "measure/second_reading.h"

#include <algorithm>
#include <cmath>

namespace stripbook::measure {

ReadingsApart readings_apart(const Extent& first, const Extent& second) {
    ReadingsApart apart;
    apart.length_mm = std::abs(second.length_mm - first.length_mm);
    apart.width_mm = std::abs(second.width_mm - first.width_mm);
    apart.largest_mm = std::abs(second.largest_mm - first.largest_mm);
    apart.area_mm2 = std::abs(second.area_mm2 - first.area_mm2);
    apart.area_share = apart.area_mm2 / std::max(first.area_mm2, 1e-9);
    const auto of_limit = [](double apart_mm, double size_mm) {
        constexpr double least_mm = 0.75;
        constexpr double share = 0.01;
        return apart_mm / std::max(least_mm, share * size_mm);
    };
    apart.of_limit =
        std::max(of_limit(apart.length_mm, first.length_mm), of_limit(apart.width_mm, first.width_mm));
    return apart;
}

}  // namespace stripbook::measure
