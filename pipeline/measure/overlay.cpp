#include "measure/overlay.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <opencv2/imgproc.hpp>

#include <string>
#include "measure/upright.h"

namespace stripbook::measure {

namespace {

constexpr int fraction_bits = 4;
const cv::Scalar dark(40, 20, 20);
const cv::Scalar light(255, 255, 255);

cv::Mat upright(const cv::Mat& stored, int orientation) {
    cv::Mat turned = stored.clone();
    switch (orientation) {
        case 2:
            cv::flip(stored, turned, 1);
            break;
        case 3:
            cv::rotate(stored, turned, cv::ROTATE_180);
            break;
        case 4:
            cv::flip(stored, turned, 0);
            break;
        case 5:
            cv::transpose(stored, turned);
            break;
        case 6:
            cv::rotate(stored, turned, cv::ROTATE_90_CLOCKWISE);
            break;
        case 7:
            cv::transpose(stored, turned);
            cv::rotate(turned, turned, cv::ROTATE_180);
            break;
        case 8:
            cv::rotate(stored, turned, cv::ROTATE_90_COUNTERCLOCKWISE);
            break;
        default:
            break;
    }
    return turned;
}

class Drawing {
  public:
    Drawing(const cv::Mat& picture, int orientation)
        : stored_(picture.size()), orientation_(orientation), picture_(upright(picture, orientation)) {
        if (picture_.channels() == 1) {
            cv::cvtColor(picture_, picture_, cv::COLOR_GRAY2BGR);
        }
        // As thick as a pencil line when the picture's long side is printed 160 mm wide.
        constexpr int lines_across = 900;
        thick_ = std::max(1, std::max(picture_.cols, picture_.rows) / lines_across);
    }

    void polygon(const std::vector<cv::Point2d>& points, bool closed) {
        std::vector<cv::Point> fixed;
        for (const auto& p : points) {
            fixed.push_back(fixed_point(p));
        }
        for (const auto& [colour, width] : {std::pair(light, 3 * thick_), std::pair(dark, thick_)}) {
            cv::polylines(picture_, std::vector<std::vector<cv::Point>>{fixed}, closed, colour, width,
                          cv::LINE_AA, fraction_bits);
        }
    }

    // A dimension line with a stroke across each end.
    void dimension_line(cv::Point2d a, cv::Point2d b) {
        const cv::Point2d along = b - a;
        const double length = std::max(1e-9, cv::norm(along));
        const cv::Point2d across = cv::Point2d(-along.y, along.x) * (6.0 * thick_ / length);
        polygon({a, b}, false);
        polygon({a - across, a + across}, false);
        polygon({b - across, b + across}, false);
    }

    void number(int value, cv::Point2d at) {
        const std::string text = std::to_string(value);
        const double size = 0.55 * thick_;
        int baseline = 0;
        const cv::Size box = cv::getTextSize(text, cv::FONT_HERSHEY_DUPLEX, size, thick_, &baseline);
        cv::Point2d p = upright_from_stored(at, stored_, orientation_);
        p.x = std::clamp<double>(p.x, box.width, picture_.cols - box.width);
        p.y = std::clamp<double>(p.y, box.height, picture_.rows - box.height);
        const cv::Point foot(cvRound(p.x) - box.width / 2, cvRound(p.y) + box.height / 2);
        const int rim = 2 * thick_;
        cv::rectangle(picture_, {foot.x - rim, foot.y - box.height - rim},
                      {foot.x + box.width + rim, foot.y + rim}, light, cv::FILLED);
        cv::rectangle(picture_, {foot.x - rim, foot.y - box.height - rim},
                      {foot.x + box.width + rim, foot.y + rim}, dark, 1);
        cv::putText(picture_, text, foot, cv::FONT_HERSHEY_DUPLEX, size, dark, thick_, cv::LINE_AA);
    }

    [[nodiscard]] cv::Mat picture() const { return picture_; }

  private:
    [[nodiscard]] cv::Point fixed_point(cv::Point2d stored_px) const {
        const cv::Point2d p = upright_from_stored(stored_px, stored_, orientation_);
        constexpr double most = 1e5;
        return {cvRound(std::clamp(p.x, -most, most) * (1 << fraction_bits)),
                cvRound(std::clamp(p.y, -most, most) * (1 << fraction_bits))};
    }

    cv::Size stored_;
    int orientation_;
    cv::Mat picture_;
    int thick_ = 1;
};

void draw_dimension(Drawing& drawing, const PartMeasurement& part, const Dimension& d) {
    if (d.line_px.size() != 2) {
        return;
    }
    const cv::Point2d a = d.line_px[0];
    const cv::Point2d b = d.line_px[1];
    if (d.kind == DimensionKind::hole_diameter) {
        const auto& hole = part.holes[static_cast<std::size_t>(d.holes[0]) - 1];
        drawing.polygon(hole.outline_px, true);
        drawing.number(d.number, a);
        return;
    }
    // Near one end: crossing lines and holes are in the middle.
    constexpr double near_end = 0.15;
    drawing.dimension_line(a, b);
    drawing.number(d.number, a + (b - a) * near_end);
}

}  // namespace

cv::Mat draw_overlay(const cv::Mat& picture, const PartMeasurement& part, int orientation) {
    Drawing drawing(picture, orientation);
    if (part.outline_px.size() > 2) {
        drawing.polygon(part.outline_px, true);
    }
    for (const auto& d : part.dimensions) {
        // The largest extent and many distances would hide the part: they stand in the table.
        if (d.kind != DimensionKind::largest_extent && d.kind != DimensionKind::area &&
            d.kind != DimensionKind::centre_distance) {
            draw_dimension(drawing, part, d);
        }
    }
    return drawing.picture();
}

}  // namespace stripbook::measure
