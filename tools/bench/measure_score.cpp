#include "bench/measure_score.h"

#include <algorithm>
#include <cmath>
#include <complex>

namespace stripbook::bench {

namespace {

using measure::DimensionKind;

// Which measured hole each true one is; -1: none.
using Match = std::vector<int>;

bool like(double a, double b) {
    constexpr double share = 0.25;
    return std::abs(a - b) < share * b;
}

// The pairs that are nearest in size first: where one of two holes was not measured, the other is not taken
// for it.
Match by_size(const TruePart& truth, const std::vector<measure::Hole>& holes) {
    struct Pair {
        std::size_t truth, hole;
        double apart_mm;
    };
    std::vector<Pair> pairs;
    for (std::size_t t = 0; t < truth.holes.size(); ++t) {
        for (std::size_t m = 0; m < holes.size(); ++m) {
            if (like(holes[m].diameter_mm, truth.holes[t].diameter_mm)) {
                pairs.push_back({t, m, std::abs(holes[m].diameter_mm - truth.holes[t].diameter_mm)});
            }
        }
    }
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const Pair& a, const Pair& b) { return a.apart_mm < b.apart_mm; });
    Match match(truth.holes.size(), -1);
    std::vector<bool> taken(holes.size(), false);
    for (const auto& pair : pairs) {
        if (match[pair.truth] < 0 && !taken[pair.hole]) {
            taken[pair.hole] = true;
            match[pair.truth] = static_cast<int>(pair.hole);
        }
    }
    return match;
}

struct Motion {
    cv::Point2d from, to;
    std::complex<double> turn;
    bool mirrored = false;
    [[nodiscard]] cv::Point2d operator()(cv::Point2d p) const {
        std::complex<double> off(p.x - from.x, p.y - from.y);
        off = (mirrored ? std::conj(off) : off) * turn;
        return {to.x + off.real(), to.y + off.imag()};
    }
};

Match matched_by(const Motion& motion, const TruePart& truth, const std::vector<measure::Hole>& holes) {
    constexpr double near_mm = 3;
    Match match(truth.holes.size(), -1);
    for (std::size_t t = 0; t < truth.holes.size(); ++t) {
        for (std::size_t m = 0; m < holes.size(); ++m) {
            if (cv::norm(motion(*truth.holes[t].place_mm) - holes[m].centre_mm) < near_mm &&
                like(holes[m].diameter_mm, truth.holes[t].diameter_mm)) {
                match[t] = static_cast<int>(m);
            }
        }
    }
    return match;
}

std::size_t size_of(const Match& match) {
    return static_cast<std::size_t>(std::count_if(match.begin(), match.end(), [](int m) { return m >= 0; }));
}

// More holes, then sizes nearer the truth: two holes lie on each other either way round.
bool better(const Match& a, const Match& b, const TruePart& truth, const std::vector<measure::Hole>& holes) {
    const auto apart_mm = [&](const Match& match) {
        double sum = 0;
        for (std::size_t t = 0; t < match.size(); ++t) {
            sum += match[t] < 0 ? 0
                                : std::abs(holes[static_cast<std::size_t>(match[t])].diameter_mm -
                                           truth.holes[t].diameter_mm);
        }
        return sum;
    };
    return size_of(a) != size_of(b) ? size_of(a) > size_of(b) : apart_mm(a) < apart_mm(b);
}

Match match_of(const TruePart& truth, const std::vector<measure::Hole>& holes) {
    Match best = by_size(truth, holes);
    const bool placed =
        std::all_of(truth.holes.begin(), truth.holes.end(), [](const auto& h) { return h.place_mm; });
    if (!placed || holes.size() < 2) {
        return best;
    }
    best.assign(truth.holes.size(), -1);
    for (std::size_t i = 0; i < truth.holes.size(); ++i) {
        for (std::size_t j = 0; j < truth.holes.size(); ++j) {
            const cv::Point2d side = *truth.holes[j].place_mm - *truth.holes[i].place_mm;
            for (std::size_t a = 0; i != j && a < holes.size(); ++a) {
                for (std::size_t b = 0; b < holes.size(); ++b) {
                    const cv::Point2d seen = holes[b].centre_mm - holes[a].centre_mm;
                    if (a == b || std::abs(cv::norm(seen) - cv::norm(side)) > 3) {
                        continue;
                    }
                    for (const bool mirrored : {false, true}) {
                        const std::complex<double> along(side.x, mirrored ? -side.y : side.y);
                        const std::complex<double> turn = std::complex<double>(seen.x, seen.y) / along;
                        const Motion motion{*truth.holes[i].place_mm, holes[a].centre_mm,
                                            turn / std::abs(turn), mirrored};
                        const Match match = matched_by(motion, truth, holes);
                        if (better(match, best, truth, holes)) {
                            best = match;
                        }
                    }
                }
            }
        }
    }
    return best;
}

void compare(ShotScore& score, const measure::Dimension& measured, double truth) {
    score.dimensions.push_back(
        {std::string(measure::name_of(measured.kind)), truth, measured.value - truth, measured.expanded()});
}

// As the side of a square that large, so that it can be held to the same limits as the lengths.
void compare_area(ShotScore& score, const measure::Dimension& measured, double truth_mm2) {
    const double side = std::sqrt(truth_mm2);
    score.dimensions.push_back({std::string(measure::name_of(measured.kind)), side,
                                std::sqrt(measured.value) - side, measured.expanded() / (2 * side)});
}

}  // namespace

bool ShotScore::wrong() const {
    return phantom > 0 || std::any_of(dimensions.begin(), dimensions.end(), [](const Compared& d) {
               constexpr double clearly_mm = 0.5;
               return std::abs(d.error_mm) > 3 * d.expanded_mm ||
                      std::abs(d.error_mm) > std::max(clearly_mm, 0.01 * d.truth_mm);
           });
}

ShotScore score_of(const TruePart& truth, const measure::PartMeasurement& measured) {
    ShotScore score;
    const Match match = match_of(truth, measured.holes);
    const auto true_of = [&](int number) {
        const auto t = std::find(match.begin(), match.end(), number - 1);
        return t == match.end() ? nullptr : &truth.holes[static_cast<std::size_t>(t - match.begin())];
    };
    const auto with_diameter =
        std::count_if(measured.dimensions.begin(), measured.dimensions.end(), [&](const auto& d) {
            return d.kind == DimensionKind::hole_diameter && true_of(d.holes[0]) != nullptr;
        });
    score.missing = static_cast<int>(match.size()) - static_cast<int>(with_diameter);
    score.phantom = static_cast<int>(measured.holes.size() - size_of(match));
    for (const auto& d : measured.dimensions) {
        if (d.kind == DimensionKind::length) {
            compare(score, d, truth.length_mm);
        } else if (d.kind == DimensionKind::width) {
            compare(score, d, truth.width_mm);
        } else if (d.kind == DimensionKind::largest_extent) {
            compare(score, d, truth.largest_mm);
        } else if (d.kind == DimensionKind::area) {
            compare_area(score, d, truth.area_mm2);
        } else if (d.kind == DimensionKind::hole_diameter && true_of(d.holes[0]) != nullptr) {
            compare(score, d, true_of(d.holes[0])->diameter_mm);
        } else if (d.kind == DimensionKind::bolt_circle && truth.bolt_circle_mm) {
            compare(score, d, *truth.bolt_circle_mm);
        } else if (d.kind == DimensionKind::centre_distance) {
            const auto* a = true_of(d.holes[0]);
            const auto* b = true_of(d.holes[1]);
            if (a != nullptr && b != nullptr && a->place_mm && b->place_mm) {
                compare(score, d, cv::norm(*a->place_mm - *b->place_mm));
            }
        }
    }
    return score;
}

Summary summary_of(const std::vector<Compared>& all) {
    Summary s;
    s.dimensions = all.size();
    if (all.empty()) {
        return s;
    }
    std::vector<double> expanded;
    std::vector<double> expanded_200;
    std::vector<double> errors;
    const double one = 1 / static_cast<double>(all.size());
    for (const auto& d : all) {
        const double error = std::abs(d.error_mm);
        s.half_within += error <= std::max(0.15, 0.001 * d.truth_mm) ? one : 0;
        s.nearly_all_within += error <= std::max(0.5, 0.003 * d.truth_mm) ? one : 0;
        s.covered += error <= d.expanded_mm ? one : 0;
        expanded.push_back(d.expanded_mm);
        errors.push_back(error);
        if (d.truth_mm >= 150) {
            expanded_200.push_back(d.expanded_mm * 200 / d.truth_mm);
        }
    }
    const auto median = [](std::vector<double>& values) {
        std::sort(values.begin(), values.end());
        return values.empty() ? 0.0 : values[values.size() / 2];
    };
    s.median_expanded_mm = median(expanded);
    s.median_expanded_200_mm = median(expanded_200);
    s.median_error_mm = median(errors);
    return s;
}

}  // namespace stripbook::bench
