#include "tag/find_codes.h"

#include <algorithm>
#include <cmath>

namespace stripbook::tag {

namespace {

using fiducial::Pyramid;

// ZXing-cpp takes 5 ms a megapixel, so pictures larger than this are read in a smaller copy; in a still
// smaller one when nothing in the picture looks like part of a code or a tag.
constexpr double whole_px = 2.2e6;
constexpr double whole_px_of_nothing = 0.6e6;
// Of the picture, for regions read at full size: a photo without a tag must stay cheap.
constexpr double most_region_px = 1.5e6;

// A square with the middle and the side that matter here.
struct Square {
    cv::Point2d middle;
    double side = 0;
};

std::vector<Square> squares_of(const std::vector<fiducial::UnreadSquare>& unread) {
    std::vector<Square> squares;
    for (const auto& s : unread) {
        const auto& c = s.corners;
        squares.push_back(
            {(c[0] + c[1] + c[2] + c[3]) / 4, (cv::norm(c[1] - c[0]) + cv::norm(c[2] - c[1])) / 2});
    }
    return squares;
}

bool of_one_code(const Square& a, const Square& b) {
    const auto [smaller, larger] = std::minmax(a.side, b.side);
    const double apart = cv::norm(a.middle - b.middle);
    // Finder patterns are 7 modules wide and 14 (version 1) to 50 (version 10) apart, tilted ones nearer.
    return larger < 1.5 * smaller && apart > 1.2 * smaller && apart < 7.5 * larger;
}

struct Region {
    cv::Rect2d box;
    double side = 0;  // of its squares
};

// Every square with its likely partners; smaller regions first, they are cheapest.
std::vector<Region> regions_of(const std::vector<Square>& squares) {
    std::vector<Region> regions;
    for (const auto& s : squares) {
        double reach = 0;
        int partners = 0;
        for (const auto& other : squares) {
            if (of_one_code(s, other)) {
                ++partners;
                reach = std::max(reach, cv::norm(other.middle - s.middle));
            }
        }
        if (partners > 0) {
            const double half = reach + 1.5 * s.side;
            regions.push_back({{s.middle.x - half, s.middle.y - half, 2 * half, 2 * half}, s.side});
        }
    }
    std::sort(regions.begin(), regions.end(),
              [](const Region& a, const Region& b) { return a.box.width < b.box.width; });
    return regions;
}

void add_codes(const Pyramid& pyramid, int level, const cv::Rect& box, std::vector<QrCode>& codes) {
    for (QrCode code : read_qr_codes(pyramid.at(level)(box))) {
        for (auto& corner : code.corners) {
            corner = Pyramid::from_level(corner + cv::Point2d(box.tl()), level);
        }
        const auto same = [&](const QrCode& known) {
            return known.text == code.text &&
                   cv::norm(known.centre() - code.centre()) < cv::norm(code.corners[0] - code.centre());
        };
        if (std::none_of(codes.begin(), codes.end(), same)) {
            codes.push_back(std::move(code));
        }
    }
}

cv::Rect at_level(const cv::Rect2d& box, int level, const cv::Size& size) {
    const cv::Point2d first = Pyramid::to_level(box.tl(), level);
    const cv::Point2d last = Pyramid::to_level(box.br(), level);
    return cv::Rect(cv::Point(first), cv::Point(last)) & cv::Rect({0, 0}, size);
}

bool lies_in(const cv::Rect2d& box, const std::vector<cv::Rect2d>& done) {
    return std::any_of(done.begin(), done.end(),
                       [&](const cv::Rect2d& d) { return (d & box).area() > 0.8 * box.area(); });
}

// The level at which a whole picture is read.
int level_of_large_codes(const Pyramid& pyramid, bool nothing_seen) {
    const bool small = static_cast<double>(pyramid.at(0).total()) <= whole_px;
    const double most_px = nothing_seen && !small ? whole_px_of_nothing : whole_px;
    int level = 0;
    while (level + 1 < pyramid.levels() && static_cast<double>(pyramid.at(level).total()) > most_px) {
        ++level;
    }
    return level;
}

}  // namespace

std::vector<QrCode> large_qr_codes(const Pyramid& pyramid, bool nothing_seen) {
    const int level = level_of_large_codes(pyramid, nothing_seen);
    std::vector<QrCode> codes;
    add_codes(pyramid, level, {{0, 0}, pyramid.at(level).size()}, codes);
    return codes;
}

void add_small_qr_codes(const Pyramid& pyramid, const std::vector<fiducial::UnreadSquare>& squares,
                        std::vector<QrCode>& codes) {
    const int done_level = level_of_large_codes(pyramid, false);
    double budget_px = most_region_px;
    std::vector<cv::Rect2d> done;
    for (const auto& region : regions_of(squares_of(squares))) {
        // Three to six pixels a module.
        const int level = pyramid.level_for(region.side, 21);
        if (level >= done_level || lies_in(region.box, done)) {
            continue;
        }
        const cv::Rect box = at_level(region.box, level, pyramid.at(level).size());
        budget_px -= box.area();
        if (budget_px < 0) {
            break;
        }
        done.push_back(region.box);
        add_codes(pyramid, level, box, codes);
    }
}

}  // namespace stripbook::tag
