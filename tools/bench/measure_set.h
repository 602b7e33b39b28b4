// Photo sets with known truth: which shots can be measured, and what is true of their parts.
#pragma once

#include <filesystem>
#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

namespace stripbook::bench {

struct TrueHole {
    double diameter_mm = 0;
    std::optional<cv::Point2d> place_mm;  ///< in the part's own frame, where the truth says it
};

struct TruePart {
    std::string kind;  ///< flange, disc, lever, plate, shoe
    double length_mm = 0;
    double width_mm = 0;
    double largest_mm = 0;  ///< between the two points of its outline furthest apart
    double area_mm2 = 0;    ///< inside its outline, holes and all
    double height_mm = 0;
    std::optional<double> bolt_circle_mm;
    std::vector<TrueHole> holes;
};

struct BenchShot {
    std::filesystem::path file;
    std::string name;
    TruePart part;
    std::string look;  ///< what lies on what, where the truth says it
};

/// The shots of a folder's truth.json (see tools/sample_maker/truth.h) that show one part and one scale
/// marker.
std::vector<BenchShot> shots_of(const std::filesystem::path& folder);

}  // namespace stripbook::bench
