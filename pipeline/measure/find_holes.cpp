#include "measure/find_holes.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>

#include "measure/bore_model.h"

namespace stripbook::measure {

namespace {

constexpr double smallest_diameter_mm = 3;
constexpr double roundest = 0.72;        // area of a candidate over its enclosing circle's
constexpr double least_support = 0.75;   // of directions with an edge on the circle
constexpr double least_evidence = 0.45;  // on rendered shots holes have 0.5 and more, round stains up to 0.4
constexpr double most_rms_share = 0.03;  // of the radius
constexpr double most_rms_px = 0.6;

using Contour = std::vector<cv::Point>;

void add_blobs(const cv::Mat1b& mask, const FaceView& view, double shrunk, std::vector<Circle>& candidates) {
    std::vector<Contour> contours;
    cv::findContours(mask, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
    for (const auto& contour : contours) {
        const double area = cv::contourArea(contour);
        const cv::Rect box = cv::boundingRect(contour);
        const double least_radius = std::max(box.width, box.height) / 2.0 - 1;
        if (area < roundest * CV_PI * least_radius * least_radius) {
            continue;  // spares most the enclosing circle, which takes long
        }
        cv::Point2f centre;
        float radius = 0;
        cv::minEnclosingCircle(contour, centre, radius);
        const double diameter_mm = 2 * static_cast<double>(radius) * shrunk / view.px_per_mm;
        if (diameter_mm < smallest_diameter_mm ||
            area < roundest * CV_PI * static_cast<double>(radius * radius)) {
            continue;
        }
        const double mean_radius = std::sqrt(area / CV_PI);
        candidates.push_back(
            {view.mm_from_view(cv::Point2d(centre) * shrunk), mean_radius * shrunk / view.px_per_mm, 0});
    }
}

// Dark and bright blobs at many thresholds inside the part.
std::vector<Circle> candidates_by_brightness(const FaceView& view,
                                             const std::vector<cv::Point2d>& outline_mm) {
    constexpr double shrunk = 2;
    cv::Mat1b grey;
    cv::cvtColor(view.picture, grey, cv::COLOR_BGR2GRAY);
    cv::resize(grey, grey, {}, 1 / shrunk, 1 / shrunk, cv::INTER_AREA);
    cv::GaussianBlur(grey, grey, {}, 1);
    cv::Mat1b inside(grey.size(), uchar{0});
    Contour outline;
    for (const auto& p : outline_mm) {
        outline.emplace_back(view.view_from_mm(p) / shrunk);
    }
    cv::fillPoly(inside, std::vector<Contour>{outline}, cv::Scalar(255));
    constexpr int rim = 4;
    cv::erode(inside, inside, cv::Mat::ones(2 * rim + 1, 2 * rim + 1, CV_8U));
    std::vector<Circle> candidates;
    constexpr int level_step = 10;
    for (int level = level_step; level < 250; level += level_step) {
        cv::Mat1b dark;
        cv::Mat1b bright;
        cv::compare(grey, level, dark, cv::CMP_LT);
        cv::compare(grey, level, bright, cv::CMP_GT);
        dark &= inside;
        bright &= inside;
        add_blobs(dark, view, shrunk, candidates);
        add_blobs(bright, view, shrunk, candidates);
    }
    return candidates;
}

// Round edges (Hough transform on the gradient): holes whose inside is half lit are no blob.
void add_round_edges(const FaceView& view, double widest_mm, std::vector<Circle>& candidates) {
    constexpr double px_per_mm = 3;
    const double shrunk = std::max(1.0, view.px_per_mm / px_per_mm);
    cv::Mat1b grey;
    cv::cvtColor(view.picture, grey, cv::COLOR_BGR2GRAY);
    cv::resize(grey, grey, {}, 1 / shrunk, 1 / shrunk, cv::INTER_AREA);
    cv::GaussianBlur(grey, grey, {}, 1);
    const double mm = view.px_per_mm / shrunk;
    std::vector<cv::Vec3f> circles;
    constexpr double strong_gradient = 120;
    constexpr double perfect = 0.6;
    cv::HoughCircles(grey, circles, cv::HOUGH_GRADIENT_ALT, 1, 4 * mm, strong_gradient, perfect,
                     static_cast<int>(smallest_diameter_mm / 2 * mm), static_cast<int>(widest_mm / 2 * mm));
    for (const auto& c : circles) {
        candidates.push_back(
            {view.mm_from_view(cv::Point2d(static_cast<double>(c[0]), static_cast<double>(c[1])) * shrunk),
             static_cast<double>(c[2]) * shrunk / view.px_per_mm, 0});
    }
}

bool same_place(const Circle& a, const Circle& b) {
    const double larger = std::max(a.radius, b.radius);
    const double smaller = std::min(a.radius, b.radius);
    return cv::norm(a.centre - b.centre) < 0.5 * larger && larger < 1.5 * smaller;
}

// One candidate a place: the one in the middle of its likes by size.
std::vector<Circle> one_a_place(std::vector<Circle> candidates) {
    std::sort(candidates.begin(), candidates.end(),
              [](const auto& a, const auto& b) { return a.radius > b.radius; });
    std::vector<std::vector<Circle>> groups;
    for (const auto& c : candidates) {
        const auto group = std::find_if(groups.begin(), groups.end(),
                                        [&](const auto& g) { return same_place(g.front(), c); });
        if (group == groups.end()) {
            groups.push_back({c});
        } else {
            group->push_back(c);
        }
    }
    std::vector<Circle> chosen;
    chosen.reserve(groups.size());
    for (const auto& group : groups) {
        chosen.push_back(group[group.size() / 3]);
    }
    return chosen;
}

bool good(const HoleEdge& hole, double px_per_mm) {
    return hole.support >= least_support && hole.evidence >= least_evidence &&
           hole.circle_mm.rms < std::max(most_rms_px / px_per_mm, most_rms_share * hole.circle_mm.radius) &&
           2 * hole.circle_mm.radius >= smallest_diameter_mm;
}

bool within(const Circle& circle, const std::vector<cv::Point2d>& outline_mm) {
    std::vector<cv::Point2f> outline(outline_mm.begin(), outline_mm.end());
    // The face's own rim is a circle too.
    constexpr double least_land_mm = 2.5;
    return cv::pointPolygonTest(outline, circle.centre, true) > circle.radius + least_land_mm;
}

// Several candidates may lead to one hole, and not all of them to its rim.
void keep_better(const HoleEdge& hole, std::vector<HoleEdge>& holes) {
    const auto same = std::find_if(holes.begin(), holes.end(), [&](const auto& other) {
        return cv::norm(other.circle_mm.centre - hole.circle_mm.centre) <
               other.circle_mm.radius + hole.circle_mm.radius;
    });
    if (same == holes.end()) {
        holes.push_back(hole);
    } else if (hole.evidence > same->evidence) {
        *same = hole;
    }
}

// The radii of the holes about as large as one of them, itself among them; smallest first.
std::vector<double> radii_alike(const std::vector<HoleEdge>& holes, const HoleEdge& one) {
    constexpr double alike = 0.2;
    std::vector<double> radii;
    for (const auto& other : holes) {
        if (std::abs(other.circle_mm.radius - one.circle_mm.radius) < alike * one.circle_mm.radius) {
            radii.push_back(other.circle_mm.radius);
        }
    }
    std::sort(radii.begin(), radii.end());
    return radii;
}

// The hole stays as it was when there is no rim of about that radius.
void look_again_at(double radius_mm, const FaceView& view, HoleLooks looks, HoleEdge& hole) {
    looks.slack_mm = 0.2;
    const auto again = hole_edge(view, {hole.circle_mm.centre, radius_mm, 0}, looks);
    if (again && good(*again, view.px_per_mm)) {
        hole = *again;
    }
}

// Holes alike are drilled alike, and a face's edge is taken for the rim more easily than the other way round:
// where a hole comes out clearly larger than the narrower quarter of those like it, a rim is looked for
// there. One that then is clearly narrower than most has a shadow's border for its rim.
void look_again_among_alike(const FaceView& view, const HoleLooks& looks, std::vector<HoleEdge>& holes) {
    constexpr double odd_mm = 0.15;
    std::vector<HoleEdge> first = holes;
    for (auto& hole : holes) {
        const auto radii = radii_alike(first, hole);
        const double narrower = radii[(radii.size() - 1) / 4];
        if (hole.circle_mm.radius - narrower > odd_mm) {
            look_again_at(narrower, view, looks, hole);
        }
    }
    constexpr std::size_t fewest = 4;
    first = holes;
    for (auto& hole : holes) {
        const auto radii = radii_alike(first, hole);
        const double middle = radii[radii.size() / 2];
        if (radii.size() >= fewest && middle - hole.circle_mm.radius > odd_mm) {
            look_again_at(middle, view, looks, hole);
        }
    }
}

void set_by_model(const FaceView& view, const HoleLooks& looks, Circle& hole_mm) {
    constexpr double widest_edge = 1.6;  // of the chamfer expected
    const Circle rough{view.view_from_mm(hole_mm.centre), hole_mm.radius * view.px_per_mm, hole_mm.rms};
    const Circle rim = fit_bore(view, rough, {looks.blur_px, widest_edge * looks.chamfer_mm, looks.sight});
    hole_mm.centre = view.mm_from_view(rim.centre);
    hole_mm.radius = rim.radius / view.px_per_mm;
}

}  // namespace

std::vector<HoleEdge> find_holes(const FaceView& view, const std::vector<cv::Point2d>& outline_mm,
                                 const std::vector<std::vector<cv::Point2d>>& openings_mm,
                                 const HoleLooks& looks) {
    std::vector<Circle> candidates = candidates_by_brightness(view, outline_mm);
    const double side_mm = std::max(view.picture.cols, view.picture.rows) / view.px_per_mm;
    add_round_edges(view, 0.9 * side_mm, candidates);
    for (const auto& opening : openings_mm) {
        std::vector<cv::Point2f> points(opening.begin(), opening.end());
        cv::Point2f centre;
        float radius = 0;
        cv::minEnclosingCircle(points, centre, radius);
        if (2 * static_cast<double>(radius) >= smallest_diameter_mm) {
            candidates.push_back({centre, static_cast<double>(radius), 0});
        }
    }
    std::vector<HoleEdge> holes;
    for (const auto& candidate : one_a_place(std::move(candidates))) {
        constexpr double rough = 0.85;
        if (!within({candidate.centre, rough * candidate.radius, 0}, outline_mm)) {
            continue;
        }
        const auto hole = hole_edge(view, candidate, looks);
        if (!hole || !good(*hole, view.px_per_mm) || !within(hole->circle_mm, outline_mm)) {
            continue;
        }
        keep_better(*hole, holes);
    }
    look_again_among_alike(view, looks, holes);
    if (is_shallow(looks.sight)) {
        for (auto& hole : holes) {
            set_by_model(view, looks, hole.circle_mm);
        }
    }
    return holes;
}

}  // namespace stripbook::measure
