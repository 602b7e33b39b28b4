#include "measure/square_sides.h"

#include "measure/surroundings.h"

namespace stripbook::measure {

namespace {

std::vector<SidePlace> places_between(const scale::Plane& plane, cv::Point2d a, cv::Point2d b,
                                      cv::Point2d inward, const cv::Rect2d& seen) {
    std::vector<SidePlace> places;
    for (int k = 1; k <= places_on_side; ++k) {
        const cv::Point2d place = a + (b - a) * (k / double(places_on_side + 1));
        const auto px = scale::pixel_from_plane(plane, place, 0);
        const auto in = scale::pixel_from_plane(plane, place + inward, 0);
        if (px && in && seen.contains(*px)) {
            places.push_back({*px, (*in - *px) / cv::norm(*in - *px)});
        }
    }
    return places;
}

}  // namespace

std::vector<std::vector<SidePlace>> square_sides(const scale::Plane& plane, cv::Size picture,
                                                 double margin_px) {
    const cv::Rect2d seen(margin_px, margin_px, picture.width - 2 * margin_px,
                          picture.height - 2 * margin_px);
    std::vector<std::vector<SidePlace>> sides;
    for (const auto& square : printed_squares_mm(plane)) {
        for (std::size_t i = 0; i < 4; ++i) {
            const cv::Point2d a = square[i];
            const cv::Point2d inward = (square[(i + 3) % 4] - a) / cv::norm(square[(i + 3) % 4] - a);
            sides.push_back(places_between(plane, a, square[(i + 1) % 4], inward, seen));
        }
    }
    return sides;
}

}  // namespace stripbook::measure
