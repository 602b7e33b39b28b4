#include "fiducial/find.h"

#include <algorithm>
#include <cmath>
#include <numeric>
#include <stdexcept>

#include "fiducial/dark_blobs.h"
#include "fiducial/modules.h"
#include "fiducial/square.h"

namespace stripbook::fiducial {

namespace {

// Boxes looked for at one level, pixels: the next level halves them, and the ranges overlap.
constexpr DarkWish finest{{7, 44}, 24, 140, 0.6, 0.5};
constexpr DarkWish coarser{{12, 44}, 14, 110, 0.75, 0.5};
// Print under dirt; in the finest level only where something was seen already, for it takes its time.
constexpr DarkWish under_dirt{{16, 72}, 24, 110, 0.6, 0.2};
constexpr std::array<double, 4> closer_limit_shares{0.12, 0.16, 0.22, 0.35};
constexpr DarkWish closer{{14, 90}, 14, 60, 0.7, 0.5};
constexpr double closer_side_px = 24;  // and up to twice as much

// Of a square that could be a fiducial: paper over print, and the outline's modules on their own sides.
constexpr double least_contrast = 10;
constexpr double least_outline_first = 0.75;  // before its corners are exact
constexpr double least_outline = 0.85;

constexpr double least_pattern = 0.08;  // a quarter of what a module of one pixel leaves

// What one look may examine: a chequered floor or a night photo full of noise must not take seconds. Photos
// of the workshop have up to 3,000 blobs and 80 squares.
constexpr int most_blobs = 10'000;
constexpr int most_squares = 600;

// Profiles along a side: few while most candidates are thrown away, many where corners are measured from.
constexpr int few_profiles = 10;
constexpr int many_profiles = 48;

// From here on a square is read. A random square gives a likeness with standard deviation 1/6 (36 modules)
// for each of 2,348 identities and turns: it passes 0.8 in 0.2 % of cases. Of the nearest other identity
// 11 of 36 modules differ, which leaves it 0.39.
constexpr double least_likeness_36h11 = 0.8;
constexpr double least_likeness_25h9 = 0.88;

int modules_across(Family family) {
    return family == Family::tag36h11 ? 8 : 7;
}

Corners from_level(const Corners& corners, int level) {
    Corners out;
    std::transform(corners.begin(), corners.end(), out.begin(),
                   [&](const cv::Point2d& p) { return Pyramid::from_level(p, level); });
    return out;
}

bool could_be_fiducial(const cv::Mat& grey, const Corners& corners, double least_outline_share) {
    const SeenModules seen = seen_modules(grey, corners, Family::tag36h11);
    return seen.contrast >= least_contrast && seen.outline >= least_outline_share &&
           pattern_of(seen) >= least_pattern;
}

// Both families have a border a module wide, and their modules are of nearly one size: one test serves both.
std::optional<Corners> square_of(const cv::Mat& grey, const DarkBlob& blob) {
    auto corners = corners_of_blob(blob);
    if (!corners) {
        return std::nullopt;
    }
    // First wide, since a blob's outline can be a pixel off, then close.
    const double module = mean_side(*corners) / 8;
    corners = onto_edges(grey, *corners, std::max(1.5, module), few_profiles);
    if (!corners || !could_be_fiducial(grey, *corners, least_outline_first)) {
        return std::nullopt;
    }
    corners = onto_edges(grey, *corners, std::max(1.0, 0.7 * module), many_profiles);
    return corners && could_be_fiducial(grey, *corners, least_outline) ? corners : std::nullopt;
}

std::optional<Fiducial> read_square(const cv::Mat& grey, const Corners& corners, Family family, Print print) {
    const Match match = best_match(seen_modules(grey, corners, family), family, print);
    const double least = family == Family::tag36h11 ? least_likeness_36h11 : least_likeness_25h9;
    if (match.likeness < least || !stands_out(match.likeness, match.second)) {
        return std::nullopt;
    }
    Fiducial f;
    f.family = family;
    f.identity = match.identity;
    f.likeness = match.likeness;
    for (std::size_t i = 0; i < 4; ++i) {
        f.corners[i] = corners[(i + static_cast<std::size_t>(match.turns)) % 4];
    }
    return f;
}

cv::Point2d middle_of(const Corners& c) {
    return (c[0] + c[1] + c[2] + c[3]) / 4;
}

bool about_the_same(const Corners& a, const Corners& b) {
    const double side = std::min(mean_side(a), mean_side(b));
    return cv::norm(middle_of(a) - middle_of(b)) < side / 3 &&
           std::max(mean_side(a), mean_side(b)) < 1.6 * side;
}

struct Budget {
    int blobs = most_blobs;
    int squares = most_squares;
};

// Adds what one level shows, or a box of it.
class LookAtLevel {
  public:
    LookAtLevel(const Pyramid& pyramid, int level, Budget& budget, Look& look)
        : pyramid_(pyramid), level_(level), grey_(pyramid.at(level)), budget_(budget), look_(look) {}

    void add_all(const DarkWish& wish, Print print) { add_blobs(dark_blobs(grey_, wish), {0, 0}, print); }

    // Within a box, under dirt of any darkness.
    void add_closer(const cv::Rect& box) {
        for (const double share : closer_limit_shares) {
            DarkWish wish = closer;
            wish.limit_share = share;
            add_blobs(dark_blobs(grey_(box), wish), box.tl(), Print::either);
        }
    }

  private:
    void add_blobs(std::vector<DarkBlob> blobs, const cv::Point& origin, Print print) {
        // In leaps all over the picture, so that what the budget leaves out is no corner of it.
        const std::size_t count = blobs.size();
        std::size_t leap = static_cast<std::size_t>(0.618 * static_cast<double>(count)) + 1;
        while (std::gcd(leap, count) > 1) {
            ++leap;
        }
        for (std::size_t i = 0; i < count && budget_.blobs > 0 && budget_.squares > 0; ++i) {
            --budget_.blobs;
            DarkBlob& blob = blobs[i * leap % count];
            blob.box += origin;
            for (auto& row : blob.rows) {
                row += cv::Vec2i(origin.x, origin.x);
            }
            add(blob, print);
        }
    }

    void add(const DarkBlob& blob, Print print) {
        const auto corners = square_of(grey_, blob);
        if (!corners) {
            return;
        }
        --budget_.squares;
        const Corners in_picture = from_level(*corners, level_);
        if (is_known(look_.fiducials, in_picture)) {
            return;
        }
        if (!is_finder_pattern(seen_modules(grey_, *corners, Family::tag36h11))) {
            for (const Family family : {Family::tag36h11, Family::tag25h9}) {
                if (auto f = read_square(grey_, *corners, family, print)) {
                    f->corners = refined_corners(pyramid_.at(0), from_level(f->corners, level_), family);
                    f->centre = middle_of(f->corners);
                    look_.fiducials.push_back(*f);
                    return;
                }
            }
        }
        if (!is_known(look_.unread, in_picture)) {
            look_.unread.push_back({in_picture});
        }
    }

    template <typename Squares>
    static bool is_known(const Squares& squares, const Corners& corners) {
        return std::any_of(squares.begin(), squares.end(),
                           [&](const auto& known) { return about_the_same(known.corners, corners); });
    }

    const Pyramid& pyramid_;
    int level_;
    const cv::Mat& grey_;
    Budget& budget_;
    Look& look_;
};

void forget_the_read(Look& look) {
    const auto was_read = [&](const UnreadSquare& square) {
        return std::any_of(look.fiducials.begin(), look.fiducials.end(), [&](const Fiducial& f) {
            return cv::norm(middle_of(square.corners) - f.centre) < f.side_px() / 2;
        });
    };
    look.unread.erase(std::remove_if(look.unread.begin(), look.unread.end(), was_read), look.unread.end());
}

}  // namespace

double Fiducial::side_px() const {
    return mean_side(corners);
}

std::array<PointPx, 4> refined_corners(const cv::Mat& grey, const std::array<PointPx, 4>& corners,
                                       Family family) {
    const double module = mean_side(corners) / modules_across(family);
    const double reach_px = std::max(1.0, 0.6 * module);
    const auto first = onto_edges(grey, corners, reach_px, many_profiles);
    const auto second = first ? onto_edges(grey, *first, reach_px, many_profiles) : std::nullopt;
    return second ? *second : corners;
}

Look look_for_fiducials(const Pyramid& pyramid) {
    Look look;
    Budget budget;
    for (int level = 0; level < pyramid.levels(); ++level) {
        LookAtLevel at_level(pyramid, level, budget, look);
        at_level.add_all(level == 0 ? finest : coarser, Print::clean);
        if (level > 0) {
            at_level.add_all(under_dirt, Print::under_dirt);
        }
    }
    forget_the_read(look);
    return look;
}

void look_closer(const Pyramid& pyramid, const std::vector<CloserBox>& boxes, Look& look) {
    Budget budget;
    for (const auto& [box, side_px] : boxes) {
        const int level = pyramid.level_for(side_px, closer_side_px);
        const cv::Rect at_level(cv::Point(Pyramid::to_level(box.tl(), level)),
                                cv::Point(Pyramid::to_level(box.br(), level)));
        const cv::Rect inside = at_level & cv::Rect({0, 0}, pyramid.at(level).size());
        if (!inside.empty()) {
            LookAtLevel(pyramid, level, budget, look).add_closer(inside);
        }
    }
    forget_the_read(look);
}

std::vector<Fiducial> find_fiducials(const cv::Mat& grey) {
    if (grey.type() != CV_8UC1) {
        throw std::invalid_argument("find_fiducials takes a grey picture of 8 bits");
    }
    return look_for_fiducials(Pyramid(grey)).fiducials;
}

}  // namespace stripbook::fiducial
