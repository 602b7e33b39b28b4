#include "tag/group.h"

#include <algorithm>
#include <cmath>
#include <opencv2/calib3d.hpp>

#include "number/tag_layout.h"

namespace stripbook::tag {

namespace {

using fiducial::Fiducial;
using number::TagLayout;

constexpr int modules_across = 8;

// How far the corners may lie off the common plane, rms, in modules and pixels. A wrong assignment is off by
// several modules at least (the nearest wrong place of a fiducial is 38 mm, 19 modules, away); lens
// distortion and a bent tag stay far below.
constexpr double slack_modules = 0.4;
constexpr double slack_px = 0.5;
// With a QR code, whose corners are whole pixels and drawn in by up to a module of its own.
constexpr double qr_slack_modules = 1.2;
// Distance between two fiducials over their side may differ from the layout's by this factor, by perspective.
constexpr double distance_factor = 2.2;

cv::Point2d centre_of(int corner) {
    const auto& c = TagLayout::fiducial_centres[static_cast<std::size_t>(corner)];
    return {c.x, c.y};
}

// A photo_from_tag fit with its residual.
struct Fit {
    cv::Matx33d photo_from_tag;
    double rms_px = 0;
};

std::optional<Fit> fit_plane(const std::vector<cv::Point2d>& tag_mm,
                             const std::vector<cv::Point2d>& photo_px) {
    const cv::Mat h = cv::findHomography(tag_mm, photo_px, 0);
    if (h.empty()) {
        return std::nullopt;
    }
    Fit fit{cv::Matx33d(h), 0};
    double sum = 0;
    for (std::size_t i = 0; i < tag_mm.size(); ++i) {
        const cv::Point2d d = mapped(fit.photo_from_tag, tag_mm[i]) - photo_px[i];
        sum += d.dot(d);
    }
    fit.rms_px = std::sqrt(sum / static_cast<double>(tag_mm.size()));
    if (!std::isfinite(fit.rms_px)) {
        return std::nullopt;
    }
    return fit;
}

double module_px(const Fiducial& f) {
    return f.side_px() / modules_across;
}

std::optional<Fit> fit_members(const std::array<std::optional<Fiducial>, 4>& at) {
    std::vector<cv::Point2d> tag_mm;
    std::vector<cv::Point2d> photo_px;
    double module = 0;
    int members = 0;
    for (int corner = 0; corner < 4; ++corner) {
        const auto& member = at[static_cast<std::size_t>(corner)];
        if (!member) {
            continue;
        }
        const auto printed = printed_corners(corner);
        tag_mm.insert(tag_mm.end(), printed.begin(), printed.end());
        photo_px.insert(photo_px.end(), member->corners.begin(), member->corners.end());
        module += module_px(*member);
        ++members;
    }
    module /= members;
    auto fit = fit_plane(tag_mm, photo_px);
    if (!fit || fit->rms_px > slack_modules * module + slack_px) {
        return std::nullopt;
    }
    return fit;
}

bool distance_could_be(const Fiducial& a, int corner_a, const Fiducial& b, int corner_b) {
    const double side = (a.side_px() + b.side_px()) / 2;
    const double seen = cv::norm(a.centre - b.centre) / side;
    const double drawn = cv::norm(centre_of(corner_a) - centre_of(corner_b)) / TagLayout::fiducial_side;
    return seen < drawn * distance_factor && seen > drawn / distance_factor;
}

// A group being built, with the places of its members in the list of found fiducials.
struct Candidate {
    Group group;
    std::vector<std::size_t> members;
};

// Adds the fiducials that fit the two empty corners.
void complete(Candidate& candidate, const std::vector<Fiducial>& found) {
    for (int corner = 0; corner < 4; ++corner) {
        auto& place = candidate.group.at[static_cast<std::size_t>(corner)];
        if (place) {
            continue;
        }
        const cv::Point2d expected = mapped(candidate.group.photo_from_tag, centre_of(corner));
        for (std::size_t i = 0; i < found.size(); ++i) {
            const bool taken =
                std::find(candidate.members.begin(), candidate.members.end(), i) != candidate.members.end();
            if (taken || cv::norm(found[i].centre - expected) > found[i].side_px() / 2) {
                continue;
            }
            auto with = candidate.group.at;
            with[static_cast<std::size_t>(corner)] = found[i];
            if (const auto fit = fit_members(with)) {
                candidate.group.at = with;
                candidate.group.photo_from_tag = fit->photo_from_tag;
                candidate.group.rms_px = fit->rms_px;
                candidate.members.push_back(i);
                break;
            }
        }
    }
}

// Every way in which two fiducials can sit on one tag. Corner assignments half a turn apart are the same
// drawing, so the first of the pair is tried at corners 0 and 1 only.
std::vector<Candidate> candidates_of(const std::vector<Fiducial>& found) {
    std::vector<Candidate> candidates;
    for (std::size_t a = 0; a < found.size(); ++a) {
        for (std::size_t b = a + 1; b < found.size(); ++b) {
            for (const int corner_a : {0, 1}) {
                for (int corner_b = 0; corner_b < 4; ++corner_b) {
                    if (corner_a == corner_b || !distance_could_be(found[a], corner_a, found[b], corner_b)) {
                        continue;
                    }
                    Candidate candidate;
                    candidate.group.at[static_cast<std::size_t>(corner_a)] = found[a];
                    candidate.group.at[static_cast<std::size_t>(corner_b)] = found[b];
                    const auto fit = fit_members(candidate.group.at);
                    if (!fit) {
                        continue;
                    }
                    candidate.group.photo_from_tag = fit->photo_from_tag;
                    candidate.group.rms_px = fit->rms_px;
                    candidate.members = {a, b};
                    complete(candidate, found);
                    candidates.push_back(std::move(candidate));
                }
            }
        }
    }
    return candidates;
}

Group alone(const Fiducial& fiducial) {
    Group group;
    group.at[0] = fiducial;
    const auto printed = printed_corners(0);
    const std::vector<cv::Point2d> tag_mm(printed.begin(), printed.end());
    const std::vector<cv::Point2d> photo_px(fiducial.corners.begin(), fiducial.corners.end());
    if (const auto fit = fit_plane(tag_mm, photo_px)) {
        group.photo_from_tag = fit->photo_from_tag;
    }
    return group;
}

std::array<cv::Point2d, 4> printed_qr_corners() {
    const double half = TagLayout::qr_side / 2;
    const cv::Point2d c(TagLayout::qr_centre.x, TagLayout::qr_centre.y);
    return {c + cv::Point2d(-half, -half), c + cv::Point2d(half, -half), c + cv::Point2d(half, half),
            c + cv::Point2d(-half, half)};
}

}  // namespace

int Group::count() const {
    return static_cast<int>(std::count_if(at.begin(), at.end(), [](const auto& f) { return f.has_value(); }));
}

number::SeenIdentities Group::identities() const {
    number::SeenIdentities seen;
    for (std::size_t i = 0; i < 4; ++i) {
        if (at[i]) {
            seen[i] = at[i]->identity;
        }
    }
    return seen;
}

Group turned_by_half(const Group& group) {
    Group turned = group;
    turned.at = {group.at[2], group.at[3], group.at[0], group.at[1]};
    // A point p of the tag lies where 2c - p lay, c being the middle of the four fiducials.
    const cv::Point2d c = (centre_of(0) + centre_of(2)) / 2;
    const cv::Matx33d half_turn(-1, 0, 2 * c.x, 0, -1, 2 * c.y, 0, 0, 1);
    turned.photo_from_tag = group.photo_from_tag * half_turn;
    return turned;
}

cv::Point2d mapped(const cv::Matx33d& transform, const cv::Point2d& point) {
    const cv::Vec3d v = transform * cv::Vec3d(point.x, point.y, 1);
    return {v[0] / v[2], v[1] / v[2]};
}

std::array<cv::Point2d, 4> printed_corners(int corner) {
    const double half = TagLayout::fiducial_side / 2;
    std::array<cv::Point2d, 4> offsets{cv::Point2d{-half, -half}, {half, -half}, {half, half}, {-half, half}};
    std::array<cv::Point2d, 4> corners;
    for (std::size_t i = 0; i < 4; ++i) {
        // Turned clockwise by corner x 90 degrees: the fiducial's own top left goes to the tag's top right,
        // and so on.
        corners[i] = centre_of(corner) + offsets[(i + static_cast<std::size_t>(corner)) % 4];
    }
    return corners;
}

std::vector<Group> group_fiducials(const std::vector<Fiducial>& found) {
    std::vector<Fiducial> tags_only;
    std::copy_if(found.begin(), found.end(), std::back_inserter(tags_only),
                 [](const Fiducial& f) { return f.family == fiducial::Family::tag36h11; });
    std::vector<Candidate> candidates = candidates_of(tags_only);
    std::stable_sort(candidates.begin(), candidates.end(), [](const Candidate& a, const Candidate& b) {
        return a.members.size() != b.members.size() ? a.members.size() > b.members.size()
                                                    : a.group.rms_px < b.group.rms_px;
    });
    std::vector<bool> used(tags_only.size(), false);
    std::vector<Group> groups;
    for (const auto& candidate : candidates) {
        const auto taken = [&](std::size_t i) { return used[i]; };
        if (std::any_of(candidate.members.begin(), candidate.members.end(), taken)) {
            continue;
        }
        for (const std::size_t i : candidate.members) {
            used[i] = true;
        }
        groups.push_back(candidate.group);
    }
    for (std::size_t i = 0; i < tags_only.size(); ++i) {
        if (!used[i]) {
            groups.push_back(alone(tags_only[i]));
        }
    }
    return groups;
}

bool refit(Group& group) {
    const auto fit = fit_members(group.at);
    if (!fit) {
        return false;
    }
    group.photo_from_tag = fit->photo_from_tag;
    group.rms_px = fit->rms_px;
    return true;
}

std::optional<cv::Matx33d> plane_of_qr_and_fiducial(const std::array<cv::Point2d, 4>& qr_corners,
                                                    const Fiducial& fiducial, int corner) {
    const auto printed_qr = printed_qr_corners();
    const auto printed = printed_corners(corner);
    std::vector<cv::Point2d> tag_mm(printed.begin(), printed.end());
    tag_mm.insert(tag_mm.end(), printed_qr.begin(), printed_qr.end());
    std::vector<cv::Point2d> photo_px(fiducial.corners.begin(), fiducial.corners.end());
    photo_px.insert(photo_px.end(), qr_corners.begin(), qr_corners.end());
    const auto fit = fit_plane(tag_mm, photo_px);
    if (!fit || fit->rms_px > qr_slack_modules * module_px(fiducial) + slack_px) {
        return std::nullopt;
    }
    return fit->photo_from_tag;
}

cv::Matx33d plane_of_qr(const std::array<cv::Point2d, 4>& qr_corners) {
    const auto printed = printed_qr_corners();
    const auto fit = fit_plane({printed.begin(), printed.end()}, {qr_corners.begin(), qr_corners.end()});
    return fit ? fit->photo_from_tag : cv::Matx33d::eye();
}

}  // namespace stripbook::tag
