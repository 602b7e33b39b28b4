#include "tag/in_place.h"

#include <algorithm>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

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

// Pixels from tag millimetres for a group of two: the pose of a flat tag before a camera of ordinary focal
// length. Six unknowns instead of a free homography's eight, so it carries much farther beyond the two
// fiducials; the focal length hardly matters over so small a field (1.2 long sides is a 43 mm lens on 36 mm
// film).
cv::Matx33d plane_by_pose(const Group& group, const cv::Size& picture) {
    std::vector<cv::Point3d> tag_mm;
    std::vector<cv::Point2d> photo_px;
    for (int corner = 0; corner < 4; ++corner) {
        const auto& member = group.at[static_cast<std::size_t>(corner)];
        if (!member) {
            continue;
        }
        for (const auto& p : printed_corners(corner)) {
            tag_mm.emplace_back(p.x, p.y, 0);
        }
        photo_px.insert(photo_px.end(), member->corners.begin(), member->corners.end());
    }
    const double focal_px = 1.2 * std::max(picture.width, picture.height);
    const cv::Matx33d camera(focal_px, 0, picture.width / 2.0, 0, focal_px, picture.height / 2.0, 0, 0, 1);
    std::vector<cv::Mat> rotations;
    std::vector<cv::Mat> translations;
    cv::solvePnPGeneric(tag_mm, photo_px, camera, cv::noArray(), rotations, translations, false,
                        cv::SOLVEPNP_IPPE);
    if (rotations.empty()) {
        return group.photo_from_tag;
    }
    cv::Mat rotation;
    cv::solvePnPRefineLM(tag_mm, photo_px, camera, cv::noArray(), rotations[0], translations[0]);
    cv::Rodrigues(rotations[0], rotation);
    const cv::Matx33d r(rotation);
    const cv::Vec3d t(translations[0]);
    return camera * cv::Matx33d(r(0, 0), r(0, 1), t[0], r(1, 0), r(1, 1), t[1], r(2, 0), r(2, 1), t[2]);
}

// Two fiducials place the others to about a module (2 mm), so the neighbourhood is searched; three wrong bits
// are forgiven there, since 49 places at five would let one random patch in five pass.
std::optional<fiducial::Fiducial> search_fiducial(const cv::Mat& grey, const cv::Matx33d& photo_from_tag,
                                                  int corner) {
    constexpr double step_mm = 0.5;
    constexpr int steps = 3;
    constexpr double least_likeness = 0.75;
    std::optional<fiducial::Fiducial> best;
    const auto printed = printed_corners(corner);
    for (int down = -steps; down <= steps; ++down) {
        for (int right = -steps; right <= steps; ++right) {
            std::array<cv::Point2d, 4> expected;
            for (std::size_t i = 0; i < 4; ++i) {
                expected[i] =
                    mapped(photo_from_tag, printed[i] + cv::Point2d(right * step_mm, down * step_mm));
            }
            const auto read = fiducial::read_fiducial_at(grey, expected, least_likeness);
            if (read && (!best || read->likeness > best->likeness)) {
                best = read;
            }
        }
    }
    return best;
}

}  // namespace

void add_fiducials_in_place(const cv::Mat& grey, Group& group) {
    const cv::Matx33d photo_from_tag = plane_by_pose(group, grey.size());
    for (int corner = 0; corner < 4; ++corner) {
        auto& place = group.at[static_cast<std::size_t>(corner)];
        if (!place) {
            place = search_fiducial(grey, photo_from_tag, corner);
        }
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
        const std::array<cv::Point2d, 4> offsets{
            cv::Point2d{-half, -half}, {half, -half}, {half, half}, {-half, half}};
        for (std::size_t i = 0; i < 4; ++i) {
            code.corners[i] = mapped(assigned.photo_from_tag, c + offsets[i]);
        }
        return code;
    }
    return std::nullopt;
}

}  // namespace stripbook::tag
