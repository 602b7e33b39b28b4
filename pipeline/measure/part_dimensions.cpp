#include "measure/part_dimensions.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "measure/bolt_circle.h"
#include "measure/plane_uncertainty.h"

namespace stripbook::measure {

namespace {

// How well the edge finder places a long clear edge, px, apart from blooming: shadows at the foot and stains
// pull at it. From rendered bench shots with known truth.
constexpr double u_edge_px = 0.223;
// What shadow and rounding at the foot of an edge add, mm, and what half-lit rims do to a hole's centre. From
// the same shots: outlines come out 0.1 mm large on the whole, thin parts most.
constexpr double u_foot_mm = 0.062;
constexpr double least_u_centre_mm = 0.038;
// What the tracing leaves off a corner, or draws out of it, mm. A corner is lost in stains the more easily
// the fainter the edge is. From 2,900 made shots (seeds 33001 to 56001, not all): lengths of shoes and
// largest extents of plates, which end in corners, against sizes that do not.
double u_corner_mm(double usual_contrast) {
    constexpr double mm_grey_levels = 9.5;
    return std::clamp(mm_grey_levels / std::max(1.0, usual_contrast), 0.1, 0.35);
}

// A face that is not parallel to the bench by this much (a burr or a chip under it), radians.
constexpr double u_face_tilt = 0.0007;
constexpr double bolt_circle_tolerance_mm = 0.4;
constexpr std::size_t most_holes_with_all_distances = 6;

bool is_of_centres(DimensionKind kind) {
    return kind == DimensionKind::centre_distance || kind == DimensionKind::bolt_circle;
}

// What the budgets need beside the plane.
struct Circumstances {
    double px_per_mm = 1;
    double view_slope = 0;  // tangent of the angle at which the camera sees the part
    double u_bloom_px = 0;
    double u_height_share = 0;  // of the face's height, over the camera's
    double u_centre_mm = 0;     // of a hole's centre, apart from the finder
    double u_corner_mm = 0;     // of the place of an outline's corner
};

Circumstances circumstances_of(const Sizes& sizes, const OutlineEdge& edge, const scale::Plane& plane,
                               const FaceHeight& height, const Bloom& bloom) {
    const scale::Standpoint stand = scale::standpoint(plane);
    const cv::Point2d middle = (sizes.extent.rectangle_mm[0] + sizes.extent.rectangle_mm[2]) / 2;
    const double across = cv::norm(middle - stand.foot_mm);
    Circumstances c;
    c.view_slope = across / stand.height_mm;
    c.u_height_share = height.u_face_mm / stand.height_mm;
    c.px_per_mm = plane.lens.focal_px / std::hypot(stand.height_mm, across);
    double contrast = 0;
    for (const auto& point : edge.points) {
        contrast += std::abs(point.contrast) / static_cast<double>(edge.points.size());
    }
    c.u_bloom_px = bloom.u_px_per_contrast * contrast;
    c.u_corner_mm = u_corner_mm(edge.usual_contrast);
    // Holes that do not sit well on their bolt circle tell how well centres are known.
    c.u_centre_mm = least_u_centre_mm;
    for (const auto& circle : sizes.bolt_circles) {
        c.u_centre_mm = std::max(c.u_centre_mm, circle.rms);
    }
    return c;
}

// Standard uncertainty of a size between two edges: the finder and the shadow at each foot apart, blooming
// alike on both.
double u_two_edges(const Circumstances& c) {
    const double one_edge_mm = std::hypot(u_edge_px / c.px_per_mm, u_foot_mm);
    return std::hypot(std::sqrt(2.0) * one_edge_mm, 2 * c.u_bloom_px / c.px_per_mm);
}

// Of the distance of two centres, each from edges all around a hole.
double u_two_centres(const Circumstances& c) {
    return std::sqrt(2.0) * std::hypot(u_edge_px / 2 / c.px_per_mm, c.u_centre_mm);
}

Budget budget_of(DimensionKind kind, double value, const PlaneShares& shares, const scale::Plane& plane,
                 const Circumstances& c, double perimeter_mm, double u_chamfer_mm) {
    const bool area = kind == DimensionKind::area;
    const bool centres = is_of_centres(kind);
    const double degree = area ? 2 : 1;
    Budget budget;
    budget.components.push_back({"corners", shares.corners, 0});
    budget.components.push_back({"lens", shares.lens, 0});
    budget.components.push_back({"sheet correction", degree * value * plane.u_sheet_relative, 0});
    // The whole scale error of the height: an end on the bench hides it from the sensitivity where the other
    // ends would move.
    budget.components.push_back({"height", std::max(shares.height, degree * value * c.u_height_share), 0});
    if (area) {
        budget.components.push_back({"edge", u_two_edges(c) / 2 * perimeter_mm, 0});
    } else if (centres) {
        budget.components.push_back({"edge", u_two_centres(c), 0});
    } else {
        budget.components.push_back({"edge", u_two_edges(c), 0});
    }
    if (kind == DimensionKind::hole_diameter) {
        budget.components.push_back({"chamfer", 2 * u_chamfer_mm, 0});
    }
    budget.components.push_back({"plane not parallel", degree * value * u_face_tilt * c.view_slope, 0});
    return budget;
}

// By how much an outline that is all but a circle is longer than wide, mm; 0: it is one, or another shape.
// Where it was not found round, stains and shadow pull at it: what it lacks of a circle may be theirs.
double not_quite_round_mm(const Extent& extent) {
    constexpr double nearly = 0.02;
    constexpr double alike = 0.015;
    const double more = extent.length_mm - extent.width_mm;
    const double filled = extent.area_mm2 / (extent.length_mm * extent.width_mm);  // a circle: pi / 4
    return more < nearly * extent.length_mm && std::abs(filled / (CV_PI / 4) - 1) < alike ? more : 0;
}

cv::Point2d pixel(const scale::Plane& plane, cv::Point2d mm, double height_mm) {
    return scale::pixel_from_plane(plane, mm, height_mm).value_or(cv::Point2d());
}

// Builds the table in the order of Sizes::row().
class Table {
  public:
    Table(const PartSeen& seen, const Sizes& sizes, const scale::Plane& plane, const FaceHeight& height,
          const Circumstances& circumstances, const OutlineDoubts& doubts,
          const std::vector<RoundHole>& holes)
        : seen_(seen),
          sizes_(sizes),
          plane_(plane),
          height_(height),
          circumstances_(circumstances),
          doubts_(doubts),
          holes_(holes) {
        const SizeFunction row = [&](const scale::Plane& p, const Heights& h) {
            return sizes_of(seen_, p, h).row();
        };
        shares_ = plane_shares(row, plane_, height_.heights, height_.u_face_mm);
        values_ = sizes_.row();
        corner_ends_ = corner_ends(outline_mm(seen_.outline, plane_, height_.heights), sizes_.extent);
    }

    std::vector<Dimension> dimensions() {
        const auto& box = sizes_.extent.rectangle_mm;
        add(DimensionKind::length, {}, {(box[0] + box[3]) / 2, (box[1] + box[2]) / 2});
        add(DimensionKind::width, {}, {(box[0] + box[1]) / 2, (box[2] + box[3]) / 2});
        add(DimensionKind::largest_extent, {},
            {sizes_.extent.largest_ends_mm[0], sizes_.extent.largest_ends_mm[1]});
        add(DimensionKind::area, {}, {});
        dimensions_.back().note = sizes_.holes.empty() ? "" : "holes not taken off";
        for (std::size_t i = 0; i < sizes_.holes.size(); ++i) {
            const auto& hole = sizes_.holes[i];
            add(DimensionKind::hole_diameter, {static_cast<int>(i) + 1},
                {hole.centre_mm, hole.centre_mm + cv::Point2d(hole.diameter_mm / 2, 0)});
        }
        for (const auto& [a, b] : seen_.distances) {
            add(DimensionKind::centre_distance, {static_cast<int>(a) + 1, static_cast<int>(b) + 1},
                {sizes_.holes[a].centre_mm, sizes_.holes[b].centre_mm});
        }
        for (std::size_t i = 0; i < seen_.bolt_circles.size(); ++i) {
            std::vector<int> holes;
            for (const auto h : seen_.bolt_circles[i]) {
                holes.push_back(static_cast<int>(h) + 1);
            }
            const Circle& circle = sizes_.bolt_circles[i];
            add(DimensionKind::bolt_circle, holes,
                {circle.centre, circle.centre + cv::Point2d(circle.radius, 0)});
            dimensions_.back().note = fmt::format("{} holes", holes.size());
        }
        return dimensions_;
    }

  private:
    void add(DimensionKind kind, std::vector<int> holes, const std::vector<cv::Point2d>& line_mm) {
        const std::size_t i = dimensions_.size();
        Dimension d;
        d.number = static_cast<int>(i) + 1;
        d.kind = kind;
        d.value = values_[i];
        const double perimeter = 2 * (sizes_.extent.length_mm + sizes_.extent.width_mm);
        d.budget =
            budget_of(kind, d.value, shares_[i], plane_, circumstances_, perimeter, height_.u_chamfer_mm);
        if (const double bumps = bumps_mm(kind); bumps > 0) {
            d.budget.components.push_back({"bumps on a straight side", u_of_rectangle(bumps / 2), 0});
        }
        if (const int corners = corners_of(kind); corners > 0) {
            d.budget.components.push_back(
                {"ends in a corner", std::sqrt(corners) * circumstances_.u_corner_mm, 0});
        }
        if (is_of_outline(kind)) {
            doubt_outline(d, perimeter);
        } else {
            doubt_holes(d, holes);
        }
        d.holes = std::move(holes);
        for (const auto& mm : line_mm) {
            d.line_px.push_back(pixel(plane_, mm, height_.heights.face));
        }
        dimensions_.push_back(std::move(d));
    }

    // What other readings of the outline, and shadow along it, may change a size of it by.
    void doubt_outline(Dimension& d, double perimeter_mm) const {
        auto& components = d.budget.components;
        const double per_size = d.kind == DimensionKind::area ? perimeter_mm / 2 : 1;
        components.push_back({"edge read otherwise", difference(doubts_.read_otherwise, d.kind) / 2, 0});
        if (const double aside = difference(doubts_.not_aside, d.kind); aside > 0) {
            components.push_back({"edge in shadow", u_of_rectangle(aside), 0});
        }
        constexpr double hardly_any_mm = 0.05;
        const double uneven = not_quite_round_mm(sizes_.extent);
        if (uneven > hardly_any_mm && d.kind != DimensionKind::area) {
            components.push_back({"not quite round", u_of_rectangle(uneven), 0});
        }
        if (doubts_.shadow_mm > 0) {
            components.push_back(
                {"shadow beside a round edge", per_size * u_of_rectangle(doubts_.shadow_mm / 2), 0});
        }
        if (doubts_.taken_off_mm > 0) {
            components.push_back(
                {"shadow taken off", per_size * u_of_rectangle(doubts_.taken_off_mm / 4), 0});
        }
    }

    // What other readings of the holes, and shadow in them, may change a size of them by.
    void doubt_holes(Dimension& d, const std::vector<int>& numbers) const {
        auto& components = d.budget.components;
        if (d.kind == DimensionKind::hole_diameter) {
            const RoundHole& hole = holes_[static_cast<std::size_t>(numbers[0]) - 1];
            components.push_back({"alike holes differ", hole.alike_scatter_mm, 0});
            components.push_back({"edge read otherwise", hole.readings_apart_mm / 2, 0});
            if (hole.u_shadow_mm > 0) {
                components.push_back({"shadow in the hole, unseen", hole.u_shadow_mm, 0});
            }
        }
        if (is_of_centres(d.kind)) {
            components.push_back({"edge read otherwise", middles_apart_by(numbers) / 2, 0});
        }
    }

    static double difference(const ReadingsApart& apart, DimensionKind kind) {
        return kind == DimensionKind::length           ? apart.length_mm
               : kind == DimensionKind::width          ? apart.width_mm
               : kind == DimensionKind::largest_extent ? apart.largest_mm
                                                       : apart.area_mm2;
    }
    // What the readings of these holes' centres may change a size between them by: two ends' worth of their
    // mean square; a bolt circle rests on all its centres.
    [[nodiscard]] double middles_apart_by(const std::vector<int>& holes) const {
        double squares = 0;
        for (const int hole : holes) {
            const double apart = holes_[static_cast<std::size_t>(hole) - 1].middles_apart_mm;
            squares += apart * apart;
        }
        return holes.size() < 3 ? std::sqrt(squares)
                                : 2 * std::sqrt(squares) / static_cast<double>(holes.size());
    }
    [[nodiscard]] double bumps_mm(DimensionKind kind) const {
        return kind == DimensionKind::length  ? sizes_.extent.length_bumps_mm
               : kind == DimensionKind::width ? sizes_.extent.width_bumps_mm
                                              : 0;
    }

    [[nodiscard]] int corners_of(DimensionKind kind) const {
        return kind == DimensionKind::length           ? corner_ends_.length
               : kind == DimensionKind::width          ? corner_ends_.width
               : kind == DimensionKind::largest_extent ? corner_ends_.largest
                                                       : 0;
    }

    const PartSeen& seen_;
    const Sizes& sizes_;
    const scale::Plane& plane_;
    const FaceHeight& height_;
    const Circumstances& circumstances_;
    const OutlineDoubts& doubts_;
    const std::vector<RoundHole>& holes_;
    std::vector<PlaneShares> shares_;
    std::vector<double> values_;
    CornerEnds corner_ends_;
    std::vector<Dimension> dimensions_;
};

// Which holes make a bolt circle, and which distances are worth a line.
void relate_holes(PartSeen& seen, const Sizes& sizes, std::optional<std::size_t>& odd_one_out) {
    std::vector<HolePlace> places;
    for (const auto& hole : sizes.holes) {
        places.push_back({hole.centre_mm, hole.diameter_mm});
    }
    const auto bolts = find_bolt_circle(places, bolt_circle_tolerance_mm);
    if (bolts) {
        seen.bolt_circles.push_back(bolts->holes);
        odd_one_out = bolts->odd_one_out;
    }
    for (std::size_t a = 0; a < places.size(); ++a) {
        for (std::size_t b = a + 1; b < places.size() && places.size() <= most_holes_with_all_distances;
             ++b) {
            const bool concentric = cv::norm(places[a].centre_mm - places[b].centre_mm) <
                                    std::max(places[a].diameter_mm, places[b].diameter_mm) / 2;
            if (!concentric) {
                seen.distances.emplace_back(a, b);
            }
        }
    }
}

}  // namespace

FaceHeight face_height(const PartOptions& options, bool inside_frame) {
    // A sheet lying on the bench beside the part is itself so thick: paper on card (common practice, no
    // source).
    constexpr double sheet_mm = 0.2;
    constexpr double u_sheet_mm = 0.1;
    // Nobody said how high: anything from nothing to this.
    constexpr double highest_untold_mm = 30;
    constexpr double widest_chamfer_mm = 0.5;
    FaceHeight height;
    height.told = options.face_height_mm.has_value();
    height.heights.bench = inside_frame ? 0 : -sheet_mm;
    const double told = height.told ? *options.face_height_mm : highest_untold_mm / 2;
    const double u_told = height.told ? options.u_face_height_mm : u_of_rectangle(highest_untold_mm / 2);
    height.chamfer_mm = std::min(widest_chamfer_mm, 0.1 * told);
    // From rendered bench shots with known truth: the rim found lies up to a tenth of a chamfer outside the
    // bore; in thin parts a shadow on the bench may be as dark as the wall.
    constexpr double u_outside = 0.081;
    constexpr double u_shadow_mm = 0.033;
    height.u_chamfer_mm =
        std::hypot(u_outside * (height.told ? height.chamfer_mm : widest_chamfer_mm), u_shadow_mm);
    height.heights.face = height.heights.bench + told - height.chamfer_mm;
    height.u_face_mm = std::hypot(u_told, inside_frame ? 0 : u_sheet_mm, height.chamfer_mm / 2);
    return height;
}

PartMeasurement dimensions_of(const PartSeen& outline_and_holes, const OutlineEdge& edge,
                              const std::vector<RoundHole>& holes, const scale::Plane& plane,
                              const FaceHeight& height, const Bloom& bloom, const OutlineDoubts& doubts) {
    PartSeen seen = outline_and_holes;
    std::optional<std::size_t> odd_one_out;
    relate_holes(seen, sizes_of(seen, plane, height.heights), odd_one_out);
    const Sizes sizes = sizes_of(seen, plane, height.heights);
    const Circumstances circumstances = circumstances_of(sizes, edge, plane, height, bloom);
    PartMeasurement part;
    part.dimensions = Table(seen, sizes, plane, height, circumstances, doubts, holes).dimensions();
    for (std::size_t i = 0; i < sizes.holes.size(); ++i) {
        Hole hole{static_cast<int>(i) + 1,
                  sizes.holes[i].centre_mm,
                  sizes.holes[i].diameter_mm,
                  holes[i].circle_mm.rms,
                  seen.holes[i],
                  0};
        for (const auto& group : seen.bolt_circles) {
            hole.bolt_circle = std::find(group.begin(), group.end(), i) != group.end() ? 1 : 0;
        }
        part.holes.push_back(hole);
    }
    for (const auto& point : seen.outline) {
        part.outline_px.push_back(point.px);
    }
    part.outline_mm = outline_mm(seen.outline, plane, height.heights);
    part.face_height_mm = height.heights.face - height.heights.bench + height.chamfer_mm;
    part.u_face_height_mm = height.u_face_mm;
    if (!height.told) {
        part.notes.emplace_back(
            "The face's height is not known: every U carries the scale error of a height up to 30 mm. Give "
            "the "
            "part's face height to make it smaller.");
    }
    if (odd_one_out) {
        part.notes.push_back(
            fmt::format("Hole {} does not lie in its place on the bolt circle.", *odd_one_out + 1));
    }
    return part;
}

}  // namespace stripbook::measure
