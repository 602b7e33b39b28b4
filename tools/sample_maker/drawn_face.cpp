#include "sample_maker/drawn_face.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

namespace stripbook::sample_maker {

namespace {

// The finest drawing that is still worth its memory. Beyond it (a large sheet very near) edges get softer by
// the ratio, they do not move: a face pixel's mean is symmetric.
constexpr double most_face_px = 1e8;

double affordable_px_per_mm(const Face& face, double wanted) {
    return std::min(wanted, std::sqrt(most_face_px / face_size_mm(face).area()));
}

// The part of a face pixel's width around `at` that lies between 0 and `end`.
double share_inside(double at, double end) {
    return std::clamp(std::min(at + 0.5, end) - std::max(at - 0.5, 0.0), 0.0, 1.0);
}

template <typename Value>
double bilinear(const cv::Mat_<Value>& picture, double x, double y) {
    const double cx = std::clamp(x, 0.0, picture.cols - 1.0);
    const double cy = std::clamp(y, 0.0, picture.rows - 1.0);
    const int ix = std::min(static_cast<int>(cx), std::max(0, picture.cols - 2));
    const int iy = std::min(static_cast<int>(cy), std::max(0, picture.rows - 2));
    const int jx = std::min(ix + 1, picture.cols - 1);
    const double fx = cx - ix;
    const double fy = cy - iy;
    const Value* upper = picture.template ptr<Value>(iy);
    const Value* lower = picture.template ptr<Value>(std::min(iy + 1, picture.rows - 1));
    return (upper[ix] * (1 - fx) + upper[jx] * fx) * (1 - fy) + (lower[ix] * (1 - fx) + lower[jx] * fx) * fy;
}

}  // namespace

DrawnFace::DrawnFace(const Face& face, double px_per_mm)
    : px_per_mm_(affordable_px_per_mm(face, px_per_mm)),
      size_px_(face_size_mm(face).width * px_per_mm_, face_size_mm(face).height * px_per_mm_),
      picture_(draw_face(face, px_per_mm_)) {
    mark_plain_cells();
}

void DrawnFace::mark_plain_cells() {
    plain_cells_ = cv::Mat1b(picture_.rows / cell_px + 1, picture_.cols / cell_px + 1, uchar{0});
    const cv::Rect whole({0, 0}, picture_.size());
    for (int y = 0; y < plain_cells_.rows; ++y) {
        for (int x = 0; x < plain_cells_.cols; ++x) {
            const cv::Rect around(x * cell_px - cell_px / 2, y * cell_px - cell_px / 2, 2 * cell_px,
                                  2 * cell_px);
            if ((around & whole) != around) {
                continue;  // at the face's edge
            }
            const uchar level = picture_(around.y, around.x);
            bool plain = true;
            for (int j = around.y; plain && j < around.y + around.height; ++j) {
                const uchar* row = picture_.ptr(j) + around.x;
                plain = std::all_of(row, row + around.width, [&](uchar v) { return v == level; });
            }
            plain_cells_(y, x) = plain ? 1 : 0;
        }
    }
}

bool DrawnFace::plain_around(const PixelOnFace& pixel) const {
    const cv::Point2d middle = pixel.middle() * px_per_mm_;
    const double cell_x = middle.x / cell_px;
    const double cell_y = middle.y / cell_px;
    if (!(cell_x >= 0 && cell_y >= 0 && cell_x < plain_cells_.cols && cell_y < plain_cells_.rows)) {
        return false;
    }
    // The pixel must not reach further than the half cell that was looked at around its cell, less a face
    // pixel.
    const double reach_px = px_per_mm_ *
                            std::max(cv::norm(pixel.upper_left - pixel.lower_right),
                                     cv::norm(pixel.upper_right - pixel.lower_left)) /
                            2;
    return reach_px < cell_px / 2.0 - 1 &&
           plain_cells_(static_cast<int>(cell_y), static_cast<int>(cell_x)) != 0;
}

void DrawnFace::add_sample(double x_px, double y_px, FaceSample& sum) const {
    const double share = share_inside(x_px, size_px_.width) * share_inside(y_px, size_px_.height);
    if (share > 0) {
        sum.share += share;
        sum.white += share * bilinear(picture_, x_px - 0.5, y_px - 0.5) / 255;
    }
}

FaceSample DrawnFace::mean_over(const PixelOnFace& pixel) const {
    FaceSample sum;
    if (plain_around(pixel)) {
        const cv::Point2d middle = pixel.middle() * px_per_mm_;
        add_sample(middle.x, middle.y, sum);
        return sum;
    }
    // Inside one pixel the mapping is as good as bilinear between its corners (the lens bends by 1e-6 of a
    // pixel there). A pixel that does not see the plane has NaN corners, and every comparison with NaN is
    // false: share stays 0.
    constexpr double step = 1.0 / samples_per_px;
    for (int j = 0; j < samples_per_px; ++j) {
        const double down = (j + 0.5) * step;
        const cv::Vec2d left = (pixel.upper_left * (1 - down) + pixel.lower_left * down) * px_per_mm_;
        const cv::Vec2d right = (pixel.upper_right * (1 - down) + pixel.lower_right * down) * px_per_mm_;
        if (std::isnan(left[0] + right[0])) {
            return {};
        }
        for (int i = 0; i < samples_per_px; ++i) {
            const double across = (i + 0.5) * step;
            const cv::Vec2d at = left * (1 - across) + right * across;
            add_sample(at[0], at[1], sum);
        }
    }
    constexpr double count = samples_per_px * samples_per_px;
    return {sum.share / count, sum.white / count};
}

double value_at(const cv::Mat1f& map, cv::Point2d face_mm, cv::Size2d size_mm) {
    return bilinear(map, face_mm.x / size_mm.width * map.cols - 0.5,
                    face_mm.y / size_mm.height * map.rows - 0.5);
}

}  // namespace stripbook::sample_maker
