// The camera model as Ceres sees it: one definition for the residuals of the bundle adjustment and of a
// single plane. Frames as in plane.h; only the room's own files include this.
#pragma once

#include <ceres/rotation.h>

#include <array>

namespace stripbook::scale {

/// The pixel of a camera point. `lens`: focal length, centre x, centre y, k1, k2.
template <typename T>
void project(const T* lens, const T* camera_point, T* pixel) {
    const T x = camera_point[0] / camera_point[2];
    const T y = camera_point[1] / camera_point[2];
    const T r2 = x * x + y * y;
    const T radial = T(1) + r2 * (lens[3] + r2 * lens[4]);
    pixel[0] = lens[0] * radial * x + lens[1];
    pixel[1] = lens[0] * radial * y + lens[2];
}

/// The pixel of a sheet point. `pose`: rotation vector and translation, camera from plane. `bloom` px moves
/// the point against its outward direction: a black square that comes out too small.
template <typename T>
void project_sheet_point(const T* pose, const T* lens, const T& bloom, const double* sheet,
                         const double* outward, T* pixel) {
    const std::array<T, 3> flat{T(sheet[0]), T(sheet[1]), T(0)};
    std::array<T, 3> seen;
    ceres::AngleAxisRotatePoint(pose, flat.data(), seen.data());
    const T mm_per_px = (seen[2] + pose[5]) / lens[0];
    const std::array<T, 3> bloomed{T(sheet[0]) - T(outward[0]) * bloom * mm_per_px,
                                   T(sheet[1]) - T(outward[1]) * bloom * mm_per_px, T(0)};
    ceres::AngleAxisRotatePoint(pose, bloomed.data(), seen.data());
    for (std::size_t i = 0; i < 3; ++i) {
        seen[i] += pose[3 + i];
    }
    project(lens, seen.data(), pixel);
}

}  // namespace stripbook::scale
