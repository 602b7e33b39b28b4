#include "tag/in_place.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <opencv2/calib3d.hpp>
#include <opencv2/imgproc.hpp>
#include <utility>
#include <vector>

#include "fiducial/modules.h"
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

// Pixels from tag millimetres for a group of one or two: the pose of a flat tag before a camera of ordinary
// focal length. Six unknowns instead of a free homography's eight, so it carries much farther beyond the two
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

// Corners of the fiducial at `corner`, moved by so much on the tag.
std::array<cv::Point2d, 4> expected_corners(const cv::Matx33d& photo_from_tag, int corner,
                                            const cv::Point2d& moved_mm) {
    std::array<cv::Point2d, 4> expected;
    const auto printed = printed_corners(corner);
    std::transform(printed.begin(), printed.end(), expected.begin(),
                   [&](const cv::Point2d& p) { return mapped(photo_from_tag, p + moved_mm); });
    return expected;
}

struct Place {
    std::array<cv::Point2d, 4> corners;
    double darker = 0;  // share of the border that is darker than the paper beside it
};

// The likeliest places within reach, by the border alone, which every fiducial has.
std::vector<Place> likely_places(const cv::Mat& grey, const cv::Matx33d& photo_from_tag, int corner,
                                 int reach_mm, double least_darker) {
    constexpr double least_contrast = 8;
    constexpr std::size_t most_places = 5;
    const cv::Rect2d picture(0, 0, grey.cols - 1, grey.rows - 1);
    std::vector<Place> places;
    for (int down = -reach_mm; down <= reach_mm; ++down) {
        for (int right = -reach_mm; right <= reach_mm; ++right) {
            const Place place{
                expected_corners(photo_from_tag, corner,
                                 cv::Point2d(static_cast<double>(right), static_cast<double>(down))),
                0};
            if (!std::all_of(place.corners.begin(), place.corners.end(),
                             [&](const cv::Point2d& p) { return picture.contains(p); })) {
                continue;
            }
            const auto seen = fiducial::seen_modules(grey, place.corners, fiducial::Family::tag36h11);
            if (seen.contrast >= least_contrast && seen.outline >= least_darker) {
                places.push_back({place.corners, seen.outline + seen.contrast / 1000});
            }
        }
    }
    std::sort(places.begin(), places.end(),
              [](const Place& a, const Place& b) { return a.darker > b.darker; });
    places.resize(std::min(places.size(), most_places));
    return places;
}

// How a missing fiducial is searched.
struct Search {
    int reach_mm;         // off the place that the members give it
    double least_darker;  // of its border; less when something may lie over it
};

std::optional<fiducial::Fiducial> search_fiducial(const cv::Mat& grey, const cv::Matx33d& photo_from_tag,
                                                  int corner, const Search& search) {
    // A square with a whole border is hardly anything else; one without must speak clearly. Random modules
    // pass 0.7 in 1 % of cases and 0.8 in 0.05 %, for each of 587 identities.
    constexpr double whole_border = 0.7;
    std::optional<fiducial::Fiducial> best;
    for (const auto& place :
         likely_places(grey, photo_from_tag, corner, search.reach_mm, search.least_darker)) {
        const double least_likeness = place.darker >= whole_border ? 0.7 : 0.8;
        const auto snapped = fiducial::refined_corners(grey, place.corners, fiducial::Family::tag36h11);
        for (const auto& corners : {snapped, place.corners}) {
            const auto read = fiducial::read_fiducial_at(grey, corners, least_likeness);
            if (read && (!best || read->likeness > best->likeness)) {
                best = read;
            }
        }
    }
    return best;
}

double distance_mm(int corner_a, int corner_b) {
    const auto& a = TagLayout::fiducial_centres[static_cast<std::size_t>(corner_a)];
    const auto& b = TagLayout::fiducial_centres[static_cast<std::size_t>(corner_b)];
    return std::hypot(a.x - b.x, a.y - b.y);
}

// Empty corners, the one nearest to a member first: it is placed best.
std::vector<int> empty_corners(const Group& group) {
    std::vector<std::pair<double, int>> empty;
    for (int corner = 0; corner < 4; ++corner) {
        if (group.at[static_cast<std::size_t>(corner)]) {
            continue;
        }
        double nearest = 1e9;
        for (int other = 0; other < 4; ++other) {
            if (group.at[static_cast<std::size_t>(other)]) {
                nearest = std::min(nearest, distance_mm(corner, other));
            }
        }
        empty.emplace_back(nearest, corner);
    }
    std::sort(empty.begin(), empty.end());
    std::vector<int> corners;
    std::transform(empty.begin(), empty.end(), std::back_inserter(corners),
                   [](const auto& e) { return e.second; });
    return corners;
}

// Two fiducials place the others to about a module (2 mm), one alone to two.
bool add_one(const cv::Mat& grey, Group& group) {
    const Search search = group.count() == 1 ? Search{4, 0.7} : Search{2, 0.3};
    const cv::Matx33d photo_from_tag = plane_by_pose(group, grey.size());
    for (const int corner : empty_corners(group)) {
        Group with = group;
        with.at[static_cast<std::size_t>(corner)] = search_fiducial(grey, photo_from_tag, corner, search);
        if (with.at[static_cast<std::size_t>(corner)] && refit(with)) {
            group = with;
            return true;
        }
    }
    return false;
}

}  // namespace

void add_fiducials_in_place(const cv::Mat& grey, Group& group) {
    constexpr int enough = 3;
    std::vector<Group> starts{group};
    if (group.count() == 1) {
        // The other kind of corner: where the long side of the tag goes the other way round.
        starts.push_back(group);
        std::swap(starts.back().at[0], starts.back().at[1]);
    }
    for (Group& start : starts) {
        while (start.count() < enough && add_one(grey, start)) {
        }
        if (start.count() > group.count()) {
            group = start;
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
