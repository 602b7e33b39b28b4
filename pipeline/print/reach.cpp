#include "print/reach.h"

#include <cmath>

namespace stripbook::print {

double CameraReach::metres_at(double px_per_mm) const {
    const double film_diagonal_mm = std::hypot(36.0, 24.0);
    const double focal_length_px = focal_length_35_mm * std::hypot(width_px, height_px) / film_diagonal_mm;
    constexpr double mm_per_m = 1000;
    return focal_length_px / px_per_mm / mm_per_m;
}

const std::vector<CameraReach>& common_cameras() {
    static const std::vector<CameraReach> cameras{
        {"phone, main camera, 12 MP", 4032, 3024, 26},
        {"pocket camera, 8 MP, wide", 3264, 2448, 28},
        {"pocket camera, 16 MP, wide", 4608, 3456, 28},
        {"system camera, 24 MP, 28 mm lens", 6000, 4000, 28},
        {"system camera, 24 MP, 50 mm lens", 6000, 4000, 50},
    };
    return cameras;
}

}  // namespace stripbook::print
