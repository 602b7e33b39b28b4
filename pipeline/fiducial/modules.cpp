#include "fiducial/modules.h"

#include <algorithm>
#include <array>
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
    for (int y = 2; y < side - 2; ++y) {
        for (int x = 2; x < side - 2; ++x) {
            const double light = paper.at(x - middle, y - middle);
            const double dark = print.at(x - middle, y - middle);
            const double share = (level(x, y) - dark) / std::max(1.0, light - dark);
            seen.inside.push_back(static_cast<float>(std::clamp(share, -0.5, 1.5)));
        }
    }
    // Neighbours share their light and their dirt: a step is judged by the paper beside it, or by the whole
    // square's contrast (overexposed print is nearly as bright as paper).
    constexpr double least_step_of_paper = 0.13;
    constexpr double least_step_of_contrast = 0.3;
    constexpr double least_step = 3;
    int darker = 0;
    const auto compare = [&](double outer, double inner) {
        const double enough = std::max(
            least_step, std::min(least_step_of_paper * outer, least_step_of_contrast * seen.contrast));
        darker += outer - inner > enough ? 1 : 0;
    };
    for (int i = 1; i < side - 1; ++i) {
        compare(level(i, 0), level(i, 1));
        compare(level(i, side - 1), level(i, side - 2));
        compare(level(0, i), level(1, i));
        compare(level(side - 1, i), level(side - 2, i));
    }
    seen.outline = darker / (4.0 * (side - 2));
    return seen;
}

namespace {

// Where between print (0) and paper (1) white begins. Dirt that lets a fifth of the light through leaves
// paper at 0.08 (tried on made tags with grime of 0.05 to 0.5).
constexpr std::array<float, 3> lower_limits{0.25F, 0.1F, 0.045F};

std::vector<float> stretched_about(const std::vector<float>& inside, float limit) {
    std::vector<float> out = inside;
    for (float& v : out) {
        v = std::clamp((v - limit) / limit, -1.F, 1.F);
    }
    return out;
}

// Keeps the best likeness of each identity over blur and turns.
class Search {
  public:
    explicit Search(Family family) : family_(family) {}

    void compare(const std::vector<float>& inside) {
        for (int turns = 0; turns < 4; ++turns) {
            compare_turn(turned(inside, data_across(family_), turns), turns);
        }
    }
    // Of the corners as given only.
    void compare_upright(const std::vector<float>& inside) { compare_turn(inside, 0); }

    [[nodiscard]] Match best() const {
        Match match = best_;
        match.second = -1;
        for (std::size_t i = 0; i < of_identity_.size(); ++i) {
            if (static_cast<int>(i) != match.identity) {
                match.second = std::max<double>(match.second, of_identity_[i]);
            }
        }
        return match;
    }
    [[nodiscard]] double best_likeness() const { return best_.likeness; }
    [[nodiscard]] const std::vector<float>& of_identity() const { return of_identity_; }

  private:
    void compare_turn(const std::vector<float>& data, int turns) {
        constexpr double hopeless = 0.45;  // blur changes a likeness by a tenth or two
        for (const auto& pictures : code_pictures(family_)) {
            pictures.correlate(data, likeness_);
            of_identity_.resize(likeness_.size(), -1.F);
            double here = -1;
            for (std::size_t i = 0; i < likeness_.size(); ++i) {
                of_identity_[i] = std::max(of_identity_[i], likeness_[i]);
                here = std::max<double>(here, likeness_[i]);
                if (likeness_[i] > best_.likeness) {
                    best_ = {static_cast<int>(i), turns, likeness_[i], -1};
                }
            }
            if (here < hopeless) {
                return;
            }
        }
    }
    Family family_;
    Match best_{0, 0, -1, -1};
    std::vector<float> likeness_;
    std::vector<float> of_identity_;
};

}  // namespace

double pattern_of(const SeenModules& seen) {
    double sum = 0;
    double squares = 0;
    for (const float v : seen.inside) {
        sum += v;
        squares += v * v;
    }
    const auto count = static_cast<double>(seen.inside.size());
    return std::sqrt(std::max(0.0, squares / count - sum / count * sum / count));
}

bool stands_out(double likeness, double second) {
    constexpr double lead = 0.2;
    constexpr double least_lead = 0.06;
    constexpr double times_as_far = 4;
    return likeness - second >= lead ||
           (likeness - second >= least_lead && 1 - second >= times_as_far * (1 - likeness));
}

Match best_match(const SeenModules& seen, Family family, Print print) {
    constexpr double enough = 0.8;
    Search search(family);
    if (print != Print::under_dirt) {
        search.compare(seen.inside);
    }
    if (print != Print::clean) {
        for (const float limit : lower_limits) {
            if (search.best_likeness() >= enough) {
                break;
            }
            search.compare(stretched_about(seen.inside, limit));
        }
    }
    return search.best();
}

bool is_finder_pattern(const SeenModules& seen) {
    const int across = seen.across - 2;
    constexpr float least_gap = 0.5F;
    float darkest_ring = 2;
    float brightest_middle = -1;
    for (int y = 0; y < across; ++y) {
        for (int x = 0; x < across; ++x) {
            const float v = seen.inside[static_cast<std::size_t>(y * across + x)];
            const int to_edge = std::min({x, y, across - 1 - x, across - 1 - y});
            if (to_edge == 0) {
                darkest_ring = std::min(darkest_ring, v);
            } else {
                brightest_middle = std::max(brightest_middle, v);
            }
        }
    }
    return darkest_ring > brightest_middle + least_gap;
}

std::vector<float> likeness_of_all(const SeenModules& seen) {
    Search search(Family::tag36h11);
    search.compare_upright(seen.inside);
    for (const float limit : lower_limits) {
        search.compare_upright(stretched_about(seen.inside, limit));
    }
    return search.of_identity();
}

}  // namespace stripbook::fiducial
