#include "tag/in_place.h"

#include <opencv2/imgproc.hpp>

#include "fiducial/read_at.h"
#include "number/tag_layout.h"

namespace stripbook::tag {

namespace {

using number::TagLayout;

// Pixels a QR module gets in the straightened patch: above the three that ZXing-cpp's sampling wants.
constexpr double patch_px_per_module = 6;

// The QR code with its quiet zone, straightened, in the tag's own frame.
struct QrPatch {
    static constexpr double side_mm = TagLayout::qr_side + 2 * TagLayout::qr_quiet;
    static constexpr double px_per_mm = patch_px_per_module / TagLayout::qr_module;

    static cv::Matx33d tag_from_patch() {
        const double left = TagLayout::qr_centre.x - side_mm / 2;
        const double top = TagLayout::qr_centre.y - side_mm / 2;
        // Whole numbers are pixel centres: patch pixel 0 lies half a pixel inside the edge.
        const double half = 0.5 / px_per_mm;
        return {1 / px_per_mm, 0, left + half, 0, 1 / px_per_mm, top + half, 0, 0, 1};
    }
};

cv::Mat straightened_qr(const cv::Mat& grey, const Group& group) {
    const int side = static_cast<int>(QrPatch::side_mm * QrPatch::px_per_mm);
    cv::Mat patch;
    const cv::Matx33d photo_from_patch = group.photo_from_tag * QrPatch::tag_from_patch();
    cv::warpPerspective(grey, patch, photo_from_patch, {side, side}, cv::INTER_CUBIC | cv::WARP_INVERSE_MAP,
                        cv::BORDER_REPLICATE);
    return patch;
}

}  // namespace

void add_fiducials_in_place(const cv::Mat& grey, Group& group) {
    for (int corner = 0; corner < 4; ++corner) {
        auto& place = group.at[static_cast<std::size_t>(corner)];
        if (place) {
            continue;
        }
        std::array<cv::Point2d, 4> expected;
        const auto printed = printed_corners(corner);
        for (std::size_t i = 0; i < 4; ++i) {
            expected[i] = mapped(group.photo_from_tag, printed[i]);
        }
        place = fiducial::read_fiducial_at(grey, expected);
    }
}

std::optional<QrCode> read_qr_in_place(const cv::Mat& grey, const Group& group) {
    for (const Group& assigned : {group, turned_by_half(group)}) {
        auto codes = read_qr_codes(straightened_qr(grey, assigned));
        if (codes.size() != 1) {
            continue;
        }
        QrCode code = codes.front();
        const double half = TagLayout::qr_side / 2;
        const cv::Point2d c(TagLayout::qr_centre.x, TagLayout::qr_centre.y);
        const std::array<cv::Point2d, 4> offsets{cv::Point2d{-half, -half}, {half, -half}, {half, half}, {-half, half}};
        for (std::size_t i = 0; i < 4; ++i) {
            code.corners[i] = mapped(assigned.photo_from_tag, c + offsets[i]);
        }
        return code;
    }
    return std::nullopt;
}

}  // namespace stripbook::tag
