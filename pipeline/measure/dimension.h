// What measuring a part gives: dimensions with their uncertainty and where they were taken.
//
// "Measured from a photo. No gauge: fits and load-bearing decisions need an instrument." belongs beside every
// place that shows one (no_gauge_note).
#pragma once

#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/budget.h"

namespace stripbook::measure {

inline constexpr std::string_view no_gauge_note =
    "Measured from a photo, no gauge: fits and load-bearing decisions need an instrument.";

enum class DimensionKind {
    length,           ///< long side of the smallest rectangle around the outline
    width,            ///< its short side
    largest_extent,   ///< between the two outline points furthest apart
    area,             ///< inside the outline, holes not taken off; mm^2
    hole_diameter,    ///< of the narrowest outline of a round hole
    centre_distance,  ///< between two holes' centres
    bolt_circle,      ///< diameter of the circle that hole centres lie on
    distance,         ///< by hand, between two points
    circle_diameter,  ///< by hand, of the circle through points
};
/// `length`, `hole diameter`, `centre distance`, ...: the names of --json.
std::string_view name_of(DimensionKind kind);
/// `mm` or `mm2`.
std::string_view unit_of(DimensionKind kind);
/// Whether the outline alone makes it: length, width, largest extent, area.
bool is_of_outline(DimensionKind kind);

struct Dimension {
    int number = 0;  ///< in the table and on the overlay, from 1
    DimensionKind kind = DimensionKind::length;
    double value = 0;        ///< mm (area: mm^2)
    Budget budget;           ///< components in the same unit
    std::vector<int> holes;  ///< numbers of the holes it concerns, from 1
    /// The dimension line: two ends (pixels of the stored picture), or the circle's centre and a point on it.
    std::vector<cv::Point2d> line_px;
    std::string note;  ///< what must be said beside it; may be empty
    [[nodiscard]] double expanded() const { return budget.expanded(); }
};

struct Hole {
    int number = 0;
    cv::Point2d centre_mm;  ///< plane frame, at the face's height
    double diameter_mm = 0;
    double roundness_rms_mm = 0;          ///< how far the edge found lies off the circle
    std::vector<cv::Point2d> outline_px;  ///< the fitted circle as seen
    int bolt_circle = 0;                  ///< number of the bolt circle it lies on; 0: none
};

enum class Refusal {
    no_part,             ///< nothing that differs from the background
    several_parts,       ///< two things of like size
    touches_frame,       ///< the part leaves the picture
    touches_marker,      ///< the part lies over the sheet's edge or a fiducial
    background_unclear,  ///< the part's edge cannot be told from the background
};

struct PartMeasurement {
    std::optional<Refusal> refusal;
    std::string reason;  ///< one line, when refused: why and what to do. No dimensions then.
    /// One line, when the outline cannot be told from the background all around although the holes can: no
    /// length, width, largest extent or area then, and no outline.
    std::string outline_reason;
    std::vector<Dimension> dimensions;
    std::vector<Hole> holes;
    std::vector<cv::Point2d> around_px;   ///< roughly where the part lies, outline told or not
    std::vector<cv::Point2d> outline_px;  ///< closed, as seen
    std::vector<cv::Point2d> outline_mm;  ///< the same at the face's height, plane frame
    double face_height_mm = 0;            ///< used
    double u_face_height_mm = 0;
    bool inside_frame = false;       ///< the part lies on the sheet, inside its fiducials
    std::vector<std::string> notes;  ///< to be said with the table
};

}  // namespace stripbook::measure
