#include "tag/read_picture.h"

#include <algorithm>

#include "tag/find_codes.h"

namespace stripbook::tag {

namespace {

using fiducial::CloserBox;

// Pixels of the picture that may be looked at again: 10 ms a million.
constexpr double most_closer_px = 0.8e6;

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

// What is left of a look once the tags and codes that were read are taken out.
struct Unexplained {
    std::vector<fiducial::Fiducial> fiducials;
    std::vector<fiducial::UnreadSquare> squares;
    bool nothing_read = true;  ///< no tag number in the whole picture
};

Unexplained unexplained_of(const TagReading& reading, const fiducial::Look& look) {
    Unexplained left;
    for (const auto& f : look.fiducials) {
        if (f.family == fiducial::Family::tag36h11 && !is_explained(reading, f.centre)) {
            left.fiducials.push_back(f);
        }
    }
    for (const auto& square : look.unread) {
        if (!is_explained(reading, (square.corners[0] + square.corners[2]) / 2)) {
            left.squares.push_back(square);
        }
    }
    left.nothing_read = std::none_of(reading.tags.begin(), reading.tags.end(),
                                     [](const TagSighting& s) { return s.number.has_value(); });
    return left;
}

// A square of a tag hardly ever shows up alone: the code's finder patterns are squares, too.
bool has_company(const fiducial::UnreadSquare& square, const Unexplained& left) {
    constexpr double farthest_in_sides = 8;
    constexpr double most_ratio = 2.6;  // a fiducial's side over a finder pattern's is 2.1
    const auto side_of = [](const auto& s) { return cv::norm(s.corners[1] - s.corners[0]); };
    const cv::Point2d middle = (square.corners[0] + square.corners[2]) / 2;
    const auto keeps_company = [&](const auto& other) {
        const double apart = cv::norm((other.corners[0] + other.corners[2]) / 2 - middle);
        const auto [smaller, larger] = std::minmax({side_of(square), side_of(other)});
        return apart > smaller && apart < farthest_in_sides * larger && larger < most_ratio * smaller;
    };
    return std::any_of(left.squares.begin(), left.squares.end(), keeps_company) ||
           std::any_of(left.fiducials.begin(), left.fiducials.end(), keeps_company);
}

// Around what was left unexplained (all of it when the picture has given no tag yet), as far as a tag reaches
// from its fiducials and from the finder patterns of its code.
std::vector<CloserBox> worth_a_closer_look(const Unexplained& left) {
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
        if (cost <= budget_px && std::none_of(boxes.begin(), boxes.end(), covers_it)) {
            budget_px -= cost;
            boxes.push_back({box, side});
        }
    };
    for (const auto& f : left.fiducials) {
        add(f.corners);
    }
    for (const auto& square : left.squares) {
        if (left.nothing_read || has_company(square, left)) {
            add(square.corners);
        }
    }
    return boxes;
}

}  // namespace

PictureReading read_picture(const cv::Mat& grey, const number::BookCode& here) {
    const fiducial::Pyramid pyramid(grey);
    fiducial::Look look = fiducial::look_for_fiducials(pyramid);
    const bool nothing_seen = look.unread.empty() && look.fiducials.empty();
    auto codes = large_qr_codes(pyramid, nothing_seen);
    PictureReading reading;
    reading.tags = read_tags(grey, look.fiducials, codes, here);

    const Unexplained left = unexplained_of(reading.tags, look);
    const std::size_t codes_before = codes.size();
    const std::size_t fiducials_before = look.fiducials.size();
    add_small_qr_codes(pyramid, left.squares, codes);
    fiducial::look_closer(pyramid, worth_a_closer_look(left), look);
    if (codes.size() > codes_before || look.fiducials.size() > fiducials_before) {
        reading.tags = read_tags(grey, look.fiducials, codes, here);
    }
    reading.fiducials = std::move(look.fiducials);
    return reading;
}

}  // namespace stripbook::tag
