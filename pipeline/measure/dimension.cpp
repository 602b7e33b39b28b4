#include "measure/dimension.h"

namespace stripbook::measure {

std::string_view name_of(DimensionKind kind) {
    switch (kind) {
        case DimensionKind::length:
            return "length";
        case DimensionKind::width:
            return "width";
        case DimensionKind::largest_extent:
            return "largest extent";
        case DimensionKind::area:
            return "area";
        case DimensionKind::hole_diameter:
            return "hole diameter";
        case DimensionKind::centre_distance:
            return "centre distance";
        case DimensionKind::bolt_circle:
            return "bolt circle";
        case DimensionKind::distance:
            return "distance";
        default:
            return "circle diameter";
    }
}

std::string_view unit_of(DimensionKind kind) {
    return kind == DimensionKind::area ? "mm2" : "mm";
}

bool is_of_outline(DimensionKind kind) {
    return kind == DimensionKind::length || kind == DimensionKind::width ||
           kind == DimensionKind::largest_extent || kind == DimensionKind::area;
}

}  // namespace stripbook::measure
