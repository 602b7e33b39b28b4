#include "sample_maker/paint.h"

#include <algorithm>
#include <cmath>
#include <limits>
#include <opencv2/imgproc.hpp>

#include "errors.h"
#include "sample_maker/drawn_face.h"
#include "sample_maker/outline.h"

namespace stripbook::sample_maker {

namespace {

// The pixels that a face can reach, from its outline followed in short steps (a lens bends its edges). The
// whole picture when part of the outline lies beyond the lens model's fold.
cv::Rect reach_of(const Item& item, const Camera& camera) {
    const cv::Rect picture({0, 0}, camera.size_px);
    const cv::Size2d size = face_size_mm(item.face);
    constexpr int steps = 24;
    double left = std::numeric_limits<double>::max();
    double top = left;
    double right = -left;
    double bottom = -left;
    for (int i = 0; i <= steps; ++i) {
        const double along = static_cast<double>(i) / steps;
        for (const cv::Point2d share : {cv::Point2d(along, 0), {along, 1}, {0, along}, {1, along}}) {
            const auto px = pixel_from_face(camera, item, {share.x * size.width, share.y * size.height});
            if (!px) {
                return picture;
            }
            left = std::min(left, px->x);
            right = std::max(right, px->x);
            top = std::min(top, px->y);
            bottom = std::max(bottom, px->y);
        }
    }
    const auto whole = [](double value, int limit) {
        return static_cast<int>(std::clamp<double>(value, 0, limit));
    };
    const cv::Point first(whole(std::floor(left) - 2, picture.width),
                          whole(std::floor(top) - 2, picture.height));
    const cv::Point last(whole(std::ceil(right) + 3, picture.width),
                         whole(std::ceil(bottom) + 3, picture.height));
    return cv::Rect(first, last) & picture;
}

// Face millimetres at the upper left corners of the pixels of `reach` and one further row and column; NaN
// where the pixel does not see the plane.
cv::Mat2d face_at_pixel_corners(const Item& item, const Camera& camera, const cv::Rect& reach) {
    const PlaneFromRay plane_from_ray(item.camera_from_plane);
    constexpr double nowhere = std::numeric_limits<double>::quiet_NaN();
    cv::Mat2d lattice(reach.height + 1, reach.width + 1, cv::Vec2d(nowhere, nowhere));
    for (int y = 0; y < lattice.rows; ++y) {
        for (int x = 0; x < lattice.cols; ++x) {
            const auto ray = ray_from_pixel(camera, {reach.x + x - 0.5, reach.y + y - 0.5});
            if (const auto plane = ray ? plane_from_ray(*ray) : std::nullopt) {
                lattice(y, x) = {plane->x / item.print_scale[0], plane->y / item.print_scale[1]};
            }
        }
    }
    return lattice;
}

// Light that the lamp's mirror image adds at a face point, grey levels.
double glare_at(const Item& item, cv::Point2d face_mm) {
    if (!item.glare) {
        return 0;
    }
    const cv::Point2d off = face_mm - item.glare->middle_mm;
    return 255 * item.glare->strength *
           std::exp(-off.dot(off) / (2 * item.glare->sigma_mm * item.glare->sigma_mm));
}

void paint_face(const Item& item, const Camera& camera, const cv::Rect& reach, double face_px_per_mm,
                cv::Mat1f& picture) {
    const DrawnFace face(item.face, face_px_per_mm);
    const cv::Size2d size = face_size_mm(item.face);
    const cv::Mat1f grime = item.grime > 0 ? grime_map(size, item.grime, item.grime_seed) : cv::Mat1f();
    const cv::Mat2d lattice = face_at_pixel_corners(item, camera, reach);
    for (int y = 0; y < reach.height; ++y) {
        float* row = picture.ptr<float>(reach.y + y) + reach.x;
        for (int x = 0; x < reach.width; ++x) {
            const PixelOnFace pixel{lattice(y, x), lattice(y, x + 1), lattice(y + 1, x + 1),
                                    lattice(y + 1, x)};
            const FaceSample sample = face.mean_over(pixel);
            if (sample.share <= 0) {
                continue;
            }
            const cv::Point2d middle_mm = pixel.middle();
            double light = item.ink_grey * sample.share + (item.paper_grey - item.ink_grey) * sample.white;
            if (!grime.empty()) {
                constexpr double darkest = 0.8;  // of the light that the thickest dirt takes
                light *= 1 - darkest * value_at(grime, middle_mm, size);
            }
            light += sample.share * glare_at(item, middle_mm);
            row[x] = static_cast<float>(row[x] * (1 - sample.share) + light);
        }
    }
}

void paint_cover(const Cover& cover, const Item& item, const Camera& camera, cv::Mat1f& picture) {
    constexpr int fraction_bits = 6;
    std::vector<cv::Point> outline;
    for (const cv::Point2d& corner : cover.outline_mm) {
        const auto px = pixel_from_face(camera, item, corner);
        if (!px || std::abs(px->x) > 1e6 || std::abs(px->y) > 1e6) {
            throw WrongUse("A cover reaches behind the camera: make it smaller or move the item away.");
        }
        outline.emplace_back(static_cast<int>(std::lround(px->x * (1 << fraction_bits))),
                             static_cast<int>(std::lround(px->y * (1 << fraction_bits))));
    }
    cv::Mat1b mask(picture.size(), uchar{0});
    cv::fillPoly(mask, std::vector<std::vector<cv::Point>>{outline}, cv::Scalar(255), cv::LINE_AA,
                 fraction_bits);
    for (int y = 0; y < mask.rows; ++y) {
        for (int x = 0; x < mask.cols; ++x) {
            if (mask(y, x) != 0) {
                const float share = static_cast<float>(mask(y, x)) / 255;
                picture(y, x) = picture(y, x) * (1 - share) + static_cast<float>(cover.grey) * share;
            }
        }
    }
}

}  // namespace

void paint(const Item& item, const Camera& camera, cv::Mat1f& picture) {
    const auto corners = face_corners_px(camera, item.camera_from_plane, printed_size_mm(item));
    if (!corners) {
        throw WrongUse("An item reaches behind the camera or out of the lens's field: move it away.");
    }
    if (area_px(*corners) <= 0) {
        return;  // seen from behind: nothing printed there
    }
    // As many face pixels as samples to a picture pixel: then samples and face pixels tile without a gap.
    const double face_px_per_mm = samples_per_px * px_per_mm(*corners, face_size_mm(item.face));
    const cv::Rect reach = reach_of(item, camera);
    if (!reach.empty()) {
        paint_face(item, camera, reach, face_px_per_mm, picture);
    }
    for (const Cover& cover : item.covers) {
        paint_cover(cover, item, camera, picture);
    }
}

}  // namespace stripbook::sample_maker
