#include "measure/false_steps.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include "measure/edge_profile.h"
#include "measure/edge_strength.h"

namespace stripbook::measure {

namespace {

using Closed = std::vector<cv::Point2d>;

cv::Point2d at(const Closed& closed, std::size_t i) {
    return closed[i % closed.size()];
}

cv::Point2d direction(cv::Point2d from, cv::Point2d to) {
    constexpr double shortest_px = 1e-9;
    return (to - from) / std::max(shortest_px, cv::norm(to - from));
}

// Where two lines that run the same way meet in a step from point `i` to the one `wide` points on.
std::optional<FalseStep> step_at(const Closed& closed, std::size_t i, std::size_t wide) {
    constexpr std::size_t reach = 10;  // points of each line
    constexpr double same_way = 0.94;  // cosine of 20 degrees
    constexpr double least_px = 2.5;
    constexpr double steepness = 0.7;  // 35 degrees
    constexpr double straight = 0.5;   // of the step
    const std::size_t n = closed.size();
    const cv::Point2d end = at(closed, i);
    const cv::Point2d begin = at(closed, i + wide);
    const cv::Point2d before = direction(at(closed, i + n - reach), end);
    const cv::Point2d behind = direction(begin, at(closed, i + wide + reach));
    if (before.dot(behind) < same_way) {
        return std::nullopt;
    }
    const cv::Point2d along = direction({}, before + behind);
    const FalseStep step{i, (i + wide) % n, {along.y, -along.x}, (begin - end).dot({along.y, -along.x})};
    const double size = std::abs(step.off_px);
    if (size < std::max(least_px, steepness * std::abs((begin - end).dot(along)))) {
        return std::nullopt;
    }
    for (std::size_t k = 1; k < reach; ++k) {
        const double off_before = std::abs((at(closed, i + n - k) - end).dot(step.outward));
        const double off_behind = std::abs((at(closed, i + wide + k) - begin).dot(step.outward));
        if (std::max(off_before, off_behind) > straight * size) {
            return std::nullopt;
        }
    }
    return step;
}

// How much the colours before and behind the step differ between the two lines, grey levels.
double contrast_of(const cv::Mat3b& picture, const Closed& closed, const FalseStep& step) {
    constexpr int nearest_px = 2;  // and a half: clear of the step's own blur
    constexpr int farthest_px = 7;
    constexpr int places = 8;  // of which the outermost are the lines themselves
    const cv::Point2d along(-step.outward.y, step.outward.x);
    const cv::Point2d across = step.outward * (step.off_px / places);
    cv::Vec3d difference;
    int count = 0;
    for (int away = nearest_px; away <= farthest_px; ++away) {
        const cv::Point2d aside = along * (away + 0.5);
        for (int k = 2; k <= places - 2; ++k) {
            difference += cv::Vec3d(colour_at(picture, closed[step.behind] + aside - across * (places - k)) -
                                    colour_at(picture, closed[step.before] - aside + across * k));
            ++count;
        }
    }
    return cv::norm(difference) / count;
}

// How strong an edge is where the line before goes on beside the one behind, or the other way round, over the
// edge of that one. `first`, `stride`: the points of the line that is there; `aside`: from it to the other.
double goes_on(const cv::Mat3b& picture, const Closed& closed, std::size_t first, std::size_t stride,
               cv::Point2d outward, cv::Point2d aside) {
    constexpr int nearest = 3;  // clear of the step's own blur
    constexpr int farthest = 24;
    const auto strength = [&](cv::Point2d off) {
        return strength_along(picture, nearest, farthest, [&](int k) {
            return std::pair(at(closed, first + static_cast<std::size_t>(k) * stride) + off, outward);
        });
    };
    constexpr double least = 1;  // grey level
    return strength(aside) / std::max(least, strength({}));
}

void tell_how_lines_go_on(const cv::Mat3b& picture, const Closed& closed, FalseStep& step) {
    const cv::Point2d aside = step.outward * step.off_px;
    step.before_goes_on = goes_on(picture, closed, step.behind, 1, step.outward, -aside);
    step.behind_goes_on = goes_on(picture, closed, step.before, closed.size() - 1, step.outward, aside);
}

std::size_t points_between(std::size_t a, std::size_t b, std::size_t n) {
    return std::min((a + n - b) % n, (b + n - a) % n);
}

// One step is found from several points; the widest tells it best.
std::vector<FalseStep> widest_of(std::vector<FalseStep> steps, std::size_t n) {
    constexpr std::size_t apart = 12;
    std::sort(steps.begin(), steps.end(),
              [](const auto& a, const auto& b) { return std::abs(a.off_px) > std::abs(b.off_px); });
    std::vector<FalseStep> widest;
    for (const auto& step : steps) {
        if (std::none_of(widest.begin(), widest.end(), [&](const auto& other) {
                return points_between(step.before, other.before, n) < apart;
            })) {
            widest.push_back(step);
        }
    }
    return widest;
}

// How far each point of the wrong lines is moved.
class Moves {
  public:
    Moves(const Closed& closed, const std::vector<FalseStep>& steps)
        : closed_(closed), on_step_(closed.size(), false), by_(closed.size()) {
        const std::size_t n = closed.size();
        for (const auto& step : steps) {
            for (std::size_t i = step.before; i != (step.behind + 1) % n; i = (i + 1) % n) {
                on_step_[i] = true;
            }
        }
    }

    // The line that starts at `first` and runs on by `stride` (n - 1: backwards), up to another step.
    void move_line(const FalseStep& step, std::size_t first, std::size_t stride, cv::Point2d by) {
        constexpr double off_line = 0.5;    // of the step
        constexpr double off_angle = 0.03;  // and of the way from it
        const std::size_t n = closed_.size();
        std::size_t i = first;
        for (std::size_t k = 0; k < n && (k == 0 || !on_step_[i]); ++k, i = (i + stride) % n) {
            const cv::Point2d way = closed_[i] - closed_[first];
            if (std::abs(way.dot(step.outward)) >
                std::max(off_line * std::abs(step.off_px), off_angle * cv::norm(way))) {
                return;
            }
            if (cv::norm(by) > cv::norm(by_[i])) {
                by_[i] = by;
            }
        }
    }

    [[nodiscard]] Closed moved() const {
        Closed result = closed_;
        for (std::size_t i = 0; i < result.size(); ++i) {
            result[i] += by_[i];
        }
        return result;
    }

  private:
    const Closed& closed_;
    std::vector<bool> on_step_;
    Closed by_;
};

}  // namespace

std::vector<FalseStep> false_steps(const cv::Mat3b& picture, const Closed& closed_px, double usual) {
    constexpr std::size_t fewest_points = 32;
    constexpr std::array<std::size_t, 5> widths = {1, 2, 3, 5, 7};
    constexpr double alike = 0.35;  // of what they differ by across the outline
    std::vector<FalseStep> steps;
    const std::size_t n = closed_px.size();
    for (std::size_t i = 0; n >= fewest_points && i < n; ++i) {
        for (const std::size_t wide : widths) {
            if (const auto step = step_at(closed_px, i, wide)) {
                steps.push_back(*step);
            }
        }
    }
    steps = widest_of(std::move(steps), n);
    steps.erase(std::remove_if(
                    steps.begin(), steps.end(),
                    [&](const auto& step) { return contrast_of(picture, closed_px, step) >= alike * usual; }),
                steps.end());
    for (auto& step : steps) {
        tell_how_lines_go_on(picture, closed_px, step);
    }
    return steps;
}

Closed moved_onto(Lines right, const Closed& closed_px, const std::vector<FalseStep>& steps) {
    constexpr double hardly_any = 0.4;
    Moves moves(closed_px, steps);
    for (const auto& step : steps) {
        const bool behind_is_outer = step.off_px > 0;
        const bool onto_before = behind_is_outer == (right == Lines::inner);
        if ((onto_before ? step.before_goes_on : step.behind_goes_on) < hardly_any) {
            continue;
        }
        // From the line behind to the one before.
        const cv::Point2d back = step.outward * -step.off_px;
        if (onto_before) {
            moves.move_line(step, step.behind, 1, back);
        } else {
            moves.move_line(step, step.before, closed_px.size() - 1, -back);
        }
    }
    return moves.moved();
}

}  // namespace stripbook::measure
