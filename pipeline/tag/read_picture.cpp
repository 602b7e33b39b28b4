#include "tag/read_picture.h"

#include <algorithm>

#include "tag/find_codes.h"

namespace stripbook::tag {

namespace {

using fiducial::CloserBox;

// Pixels of the picture that may be looked at again: 10 ms a million.
constexpr double most_closer_px = 1.5e6;

bool lies_in(const std::array<cv::Point2d, 4>& face, const cv::Point2d& p) {
    for (std::size_t i = 0; i < 4; ++i) {
        const cv::Point2d side = face[(i + 1) % 4] - face[i];
        const cv::Point2d to = p - face[i];
        if (side.x * to.y - side.y * to.x < 0) {
            return false;
        }
    }
    return true;
}

// Whether a place belongs to something that was read to the end.
bool is_explained(const TagReading& reading, const cv::Point2d& p) {
    const auto tag_holds = [&](const TagSighting& s) { return s.number && lies_in(s.corners, p); };
    const auto code_holds = [&](const QrCode& c) { return lies_in(c.corners, p); };
    return std::any_of(reading.tags.begin(), reading.tags.end(), tag_holds) ||
           std::any_of(reading.other_codes.begin(), reading.other_codes.end(), code_holds);
}

// Around every square that was left unexplained, as far as a tag reaches from its fiducials and from the
// finder patterns of its code.
std::vector<CloserBox> worth_a_closer_look(const TagReading& reading, const fiducial::Look& look) {
    constexpr double tag_in_sides = 7;
    std::vector<CloserBox> boxes;
    double budget_px = most_closer_px;
    const auto add = [&](const std::array<cv::Point2d, 4>& corners) {
        const cv::Point2d middle = (corners[0] + corners[1] + corners[2] + corners[3]) / 4;
        const double side = (cv::norm(corners[1] - corners[0]) + cv::norm(corners[2] - corners[1])) / 2;
        const double reach = tag_in_sides * side;
        const cv::Rect2d box(middle.x - reach, middle.y - reach, 2 * reach, 2 * reach);
        const auto covers_it = [&](const CloserBox& done) {
            return (done.box & box).area() > 0.6 * box.area() && done.side_px < 1.6 * side;
        };
        // Larger squares are looked at in a smaller copy.
        const double cost = box.area() / std::max(1.0, side * side / 900);
        if (is_explained(reading, middle) || cost > budget_px ||
            std::any_of(boxes.begin(), boxes.end(), covers_it)) {
            return;
        }
        budget_px -= cost;
        boxes.push_back({box, side});
    };
    for (const auto& f : look.fiducials) {
        if (f.family == fiducial::Family::tag36h11) {
            add(f.corners);
        }
    }
    for (const auto& square : look.unread) {
        add(square.corners);
    }
    return boxes;
}

}  // namespace

PictureReading read_picture(const cv::Mat& grey, const number::BookCode& here) {
    const fiducial::Pyramid pyramid(grey);
    fiducial::Look look = fiducial::look_for_fiducials(pyramid);
    const auto codes = find_qr_codes(pyramid, look);
    PictureReading reading;
    reading.tags = read_tags(grey, look.fiducials, codes, here);
    const std::size_t before = look.fiducials.size();
    fiducial::look_closer(pyramid, worth_a_closer_look(reading.tags, look), look);
    if (look.fiducials.size() > before) {
        reading.tags = read_tags(grey, look.fiducials, codes, here);
    }
    reading.fiducials = std::move(look.fiducials);
    return reading;
}

}  // namespace stripbook::tag
