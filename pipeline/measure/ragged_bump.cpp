#include "measure/ragged_bump.h"

#include <algorithm>

#include "measure/ragged_edge.h"
#include "measure/straight_side.h"

namespace stripbook::measure {

namespace {

constexpr double highest_bump_mm = 5;
constexpr double out_of_side_mm = 0.6;
// Of some 2,600 made shots (seeds 49001 to 63001, not all) ten have such a bump, with 0.48 to 1 of it ragged;
// nine of their outlines something else speaks against, the tenth, with 0.39 of the usual contrast, made a
// length 3 mm too long. The corners of a small lug are as good as ragged, but its edge is clear.
constexpr double ragged_bump = 1.0 / 3;
constexpr double faint_bump = 0.6;

// Where the outline stands out of a straight side: how much of that is ragged and how clear the edge is
// there.
struct Bump {
    int points = 0;
    int ragged = 0;
    double contrast = 0;  // sum

    [[nodiscard]] bool is_false() const {
        return ragged > ragged_bump * points && contrast < faint_bump * points;
    }
};

}  // namespace

bool rests_on_ragged_bump(const std::vector<OutlinePoint>& outline, const std::vector<cv::Point2d>& closed_mm,
                          const Extent& extent, const OutlineEdge& edge) {
    if (closed_mm.size() != outline.size() || edge.points.empty()) {
        return false;
    }
    const auto sides = sides_of(extent.rectangle_mm);
    return std::any_of(sides.begin(), sides.end(), [&](RectangleSide side) {
        side.at_mm = outermost_mm(closed_mm, side.out);
        const auto run = straight_run(closed_mm, side, highest_bump_mm);
        if (!run || straight_run(closed_mm, side)) {
            return false;
        }
        const auto ragged = ragged_points(edge);
        Bump bump;
        for (std::size_t i = 0; i < closed_mm.size(); ++i) {
            if (closed_mm[i].dot(side.out) > run->outermost_mm() + out_of_side_mm) {
                const std::size_t at = nearest_point(edge.points, outline[i].px);
                ++bump.points;
                bump.ragged += ragged[at] ? 1 : 0;
                bump.contrast += edge.points[at].contrast_share;
            }
        }
        return bump.is_false();
    });
}

}  // namespace stripbook::measure
