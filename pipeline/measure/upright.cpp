#include "measure/upright.h"

namespace stripbook::measure {

cv::Point2d stored_from_upright(cv::Point2d p, cv::Size stored, int orientation) {
    const double right = stored.width - 1;
    const double bottom = stored.height - 1;
    switch (orientation) {
        case 2:
            return {right - p.x, p.y};
        case 3:
            return {right - p.x, bottom - p.y};
        case 4:
            return {p.x, bottom - p.y};
        case 5:
            return {p.y, p.x};
        case 6:
            return {p.y, bottom - p.x};
        case 7:
            return {right - p.y, bottom - p.x};
        case 8:
            return {right - p.y, p.x};
        default:
            return p;
    }
}

cv::Point2d upright_from_stored(cv::Point2d p, cv::Size stored, int orientation) {
    // Every turn is undone by itself but the two quarter turns, which undo each other.
    const int back = orientation == 6 ? 8 : orientation == 8 ? 6 : orientation;
    const bool on_its_side = orientation >= 5 && orientation <= 8;
    return stored_from_upright(p, on_its_side ? cv::Size(stored.height, stored.width) : stored, back);
}

}  // namespace stripbook::measure
