#include "fiducial/modules.h"

#include <algorithm>
#include <cmath>

#include "fiducial/code_pictures.h"
#include "fiducial/sample.h"

namespace stripbook::fiducial {

namespace {

constexpr int paper_around = 1;

// Picture from the unit square whose corners are (0, 0), (1, 0), (1, 1), (0, 1). Source: P. S. Heckbert,
// "Fundamentals of Texture Mapping and Image Warping", 1989, section 2.2.3.
class FromUnitSquare {
  public:
    explicit FromUnitSquare(const Corners& p) {
        const cv::Point2d d1 = p[1] - p[2];
        const cv::Point2d d2 = p[3] - p[2];
        const cv::Point2d s = p[0] - p[1] + p[2] - p[3];
        const double det = d1.x * d2.y - d2.x * d1.y;
        g_ = (s.x * d2.y - d2.x * s.y) / det;
        h_ = (d1.x * s.y - s.x * d1.y) / det;
        x_ = p[1] - p[0] + g_ * p[1];
        y_ = p[3] - p[0] + h_ * p[3];
        origin_ = p[0];
    }
    [[nodiscard]] cv::Point2d at(double u, double v) const {
        return (x_ * u + y_ * v + origin_) * (1 / (g_ * u + h_ * v + 1));
    }

  private:
    double g_, h_;
    cv::Point2d x_, y_, origin_;
};

// A plane over the grid, least squares; the places of each kind of module lie evenly about the middle, so
// that the three unknowns part.
class GreyPlane {
  public:
    void add(double x, double y, double grey) {
        ++count_;
        sum_ += grey;
        x_grey_ += x * grey;
        y_grey_ += y * grey;
        xx_ += x * x;
        yy_ += y * y;
    }
    [[nodiscard]] double at(double x, double y) const {
        return sum_ / count_ + x * x_grey_ / xx_ + y * y_grey_ / yy_;
    }
    [[nodiscard]] double mean() const { return sum_ / count_; }

  private:
    int count_ = 0;
    double sum_ = 0, x_grey_ = 0, y_grey_ = 0, xx_ = 0, yy_ = 0;
};

// Levels of all modules, paper ring included. Four samples a module, so that noise and JPEG blocks average.
std::vector<double> module_levels(const cv::Mat& grey, const Corners& corners, int across) {
    const FromUnitSquare picture(corners);
    const int side = across + 2 * paper_around;
    std::vector<double> levels;
    levels.reserve(static_cast<std::size_t>(side * side));
    constexpr double off = 0.2;  // modules
    for (int y = 0; y < side; ++y) {
        for (int x = 0; x < side; ++x) {
            double sum = 0;
            for (const double dy : {-off, off}) {
                for (const double dx : {-off, off}) {
                    const cv::Point2d p = picture.at((x - paper_around + 0.5 + dx) / across,
                                                     (y - paper_around + 0.5 + dy) / across);
                    sum += grey_at(grey, p.x, p.y);
                }
            }
            levels.push_back(sum / 4);
        }
    }
    return levels;
}

// The data modules of a square grid turned so that corner `turns` becomes the top left.
std::vector<float> turned(const std::vector<float>& data, int across, int turns) {
    std::vector<float> out = data;
    for (int t = 0; t < turns; ++t) {
        std::vector<float> next(out.size());
        for (int y = 0; y < across; ++y) {
            for (int x = 0; x < across; ++x) {
                // The top right becomes the top left: a quarter turn against the clock.
                next[static_cast<std::size_t>(y * across + x)] =
                    out[static_cast<std::size_t>(x * across + (across - 1 - y))];
            }
        }
        out = std::move(next);
    }
    return out;
}

}  // namespace

SeenModules seen_modules(const cv::Mat& grey, const Corners& corners, Family family) {
    SeenModules seen;
    const int data = data_across(family);
    seen.across = data + 2;
    const int side = seen.across + 2 * paper_around;
    const std::vector<double> levels = module_levels(grey, corners, seen.across);
    const auto level = [&](int x, int y) { return levels[static_cast<std::size_t>(y * side + x)]; };
    const auto ring_of = [&](int x, int y) { return std::min({x, y, side - 1 - x, side - 1 - y}); };
    const double middle = (side - 1) / 2.0;
    GreyPlane paper;
    GreyPlane print;
    for (int y = 0; y < side; ++y) {
        for (int x = 0; x < side; ++x) {
            if (ring_of(x, y) < 2) {
                (ring_of(x, y) == 0 ? paper : print).add(x - middle, y - middle, level(x, y));
            }
        }
    }
    seen.contrast = paper.mean() - print.mean();
    int known = 0;
    int right = 0;
    for (int y = 0; y < side; ++y) {
        for (int x = 0; x < side; ++x) {
            const double light = paper.at(x - middle, y - middle);
            const double dark = print.at(x - middle, y - middle);
            const double share = (level(x, y) - dark) / std::max(1.0, light - dark);
            if (ring_of(x, y) < 2) {
                ++known;
                right += (share > 0.5) == (ring_of(x, y) == 0) ? 1 : 0;
            } else {
                seen.inside.push_back(static_cast<float>(std::clamp(share, -0.5, 1.5)));
            }
        }
    }
    seen.outline = static_cast<double>(right) / known;
    return seen;
}

Match best_match(const SeenModules& seen, Family family) {
    constexpr double hopeless = 0.45;
    Match best;
    best.likeness = -1;
    std::vector<float> likeness;
    std::vector<float> of_identity;
    for (int turns = 0; turns < 4; ++turns) {
        const auto data = turned(seen.inside, data_across(family), turns);
        for (const auto& pictures : code_pictures(family)) {
            pictures.correlate(data, likeness);
            of_identity.resize(likeness.size(), -1.F);
            for (std::size_t i = 0; i < likeness.size(); ++i) {
                of_identity[i] = std::max(of_identity[i], likeness[i]);
                if (likeness[i] > best.likeness) {
                    best.likeness = likeness[i];
                    best.identity = static_cast<int>(i);
                    best.turns = turns;
                }
            }
            if (best.likeness < hopeless) {
                break;  // blur changes a likeness by a tenth or two
            }
        }
    }
    best.second = -1;
    for (std::size_t i = 0; i < of_identity.size(); ++i) {
        if (static_cast<int>(i) != best.identity) {
            best.second = std::max<double>(best.second, of_identity[i]);
        }
    }
    return best;
}

std::vector<float> likeness_of_all(const SeenModules& seen) {
    std::vector<float> best;
    std::vector<float> likeness;
    for (const auto& pictures : code_pictures(Family::tag36h11)) {
        pictures.correlate(seen.inside, likeness);
        best.resize(likeness.size(), -1.F);
        std::transform(likeness.begin(), likeness.end(), best.begin(), best.begin(),
                       [](float a, float b) { return std::max(a, b); });
    }
    return best;
}

}  // namespace stripbook::fiducial
