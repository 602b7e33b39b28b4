#include "measure/shadow_border.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <optional>

#include "measure/closed_line.h"
#include "measure/closed_runs.h"
#include "measure/edge_profile.h"
#include "measure/greys_across.h"
#include "measure/outline_edge.h"
#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

constexpr int neighbours = 7;          // on each side
constexpr std::size_t fewest = 40;     // points of a stretch that is moved, or of an outline
constexpr double inward_mm = 0.8;      // from the outline: clear of its blur
constexpr double ground_mm = 1.2;      // beyond the shadow
constexpr double lit_ground_mm = 0.2;  // the outermost of that, clear of the shadow's soft border
constexpr double step_mm = 0.05;

// Linear light across the outline, from inside to outside.
struct Across {
    std::vector<double> light;

    [[nodiscard]] double ground() const {
        constexpr auto count = static_cast<std::size_t>(lit_ground_mm / step_mm);
        std::vector<double> last(light.end() - static_cast<std::ptrdiff_t>(count), light.end());
        return middle_value(std::move(last));
    }
    // Where the lit ground begins, mm outward of the outline: halfway from its light to the darkest place
    // just inside. Nothing where there is none darker than `dark`, or where it ends darker.
    [[nodiscard]] std::optional<double> ground_from_mm(double dark) const {
        constexpr auto just_inside = static_cast<std::size_t>(0.5 / step_mm);
        const std::size_t lit = brighter_from(dark);
        if (lit == 0 || lit == light.size()) {
            return std::nullopt;
        }
        const auto end = light.begin() + static_cast<std::ptrdiff_t>(lit);
        const auto start = end - static_cast<std::ptrdiff_t>(std::min(lit, just_inside));
        const double level = (ground() + *std::min_element(start, end)) / 2;
        const std::size_t first = brighter_from(level);
        if (first == 0 || first == light.size()) {
            return std::nullopt;
        }
        const double before = light[first - 1];
        const double share = (level - before) / std::max(1e-9, light[first] - before);
        return step_mm * (static_cast<double>(first - 1) + share) - inward_mm;
    }

  private:
    // The first place from which on it is brighter.
    [[nodiscard]] std::size_t brighter_from(double level) const {
        std::size_t first = light.size();
        while (first > 0 && light[first - 1] > level) {
            --first;
        }
        return first;
    }
};

// The outline on the bench, in pixels of the view, with its directions outward.
std::vector<EdgePoint> on_bench(const std::vector<cv::Point2d>& bench_mm, const FaceView& bench) {
    const std::size_t n = bench_mm.size();
    const std::vector<cv::Point2f> single(bench_mm.begin(), bench_mm.end());
    const double side = cv::contourArea(single, true) > 0 ? 1 : -1;
    std::vector<EdgePoint> points(n);
    for (std::size_t i = 0; i < n; ++i) {
        const cv::Point2d along = bench_mm[(i + neighbours) % n] - bench_mm[(i + n - neighbours) % n];
        points[i].px = bench.view_from_mm(bench_mm[i]);
        points[i].outward = cv::Point2d(along.y, -along.x) * (side / std::max(1e-9, cv::norm(along)));
    }
    return steadied(points, neighbours);
}

// By how much each point lies further out on the bench than in plan: a rim hides what is beyond it.
std::vector<double> hidden_mm(const std::vector<cv::Point2d>& plan_mm,
                              const std::vector<cv::Point2d>& bench_mm,
                              const std::vector<EdgePoint>& on_bench) {
    std::vector<double> hidden(plan_mm.size(), 0);
    for (std::size_t i = 0; i < hidden.size(); ++i) {
        hidden[i] = (bench_mm[i] - plan_mm[i]).dot(on_bench[i].outward);
    }
    return hidden;
}

// How far inward of the point on the bench the part's foot lies, mm; nothing where the picture does not tell.
std::optional<double> foot_inward_mm(const Across& across, double falls_mm, double dark, double lit_ground) {
    constexpr double same_ground = 0.3;
    constexpr double outline_off_mm = 0.15;  // inward of the shadow's border
    const double ground = across.ground();
    if (std::abs(ground - lit_ground) > same_ground * lit_ground) {
        return std::nullopt;
    }
    const auto border_mm = across.ground_from_mm((1 + dark) / 2 * ground);
    if (!border_mm || *border_mm < -outline_off_mm) {
        return std::nullopt;
    }
    return falls_mm - *border_mm;
}

// For each point, from inside to outside.
std::vector<Across> light_across(const FaceView& bench, const std::vector<EdgePoint>& steady,
                                 double beyond_mm) {
    const SamplesAcross samples{-inward_mm * bench.px_per_mm, step_mm * bench.px_per_mm,
                                static_cast<int>((inward_mm + beyond_mm) / step_mm) + 1};
    std::vector<Across> across;
    across.reserve(steady.size());
    for (auto& greys : greys_across(bench.picture, steady, samples, neighbours)) {
        for (auto& grey : greys) {
            grey = linear_light(grey);
        }
        across.push_back({std::move(greys)});
    }
    return across;
}

// How far inward of each point on the bench the part's foot lies, mm; nothing where it is not told to lie
// clearly further in than the outline does in plan.
std::vector<std::optional<double>> feet_inward_mm(const std::vector<Across>& across,
                                                  const std::vector<EdgePoint>& steady,
                                                  const std::vector<double>& hidden,
                                                  const CastShadow& shadow) {
    constexpr double least_fall_mm = 0.2;
    constexpr double least_mm = 0.2;
    std::vector<double> grounds;
    grounds.reserve(across.size());
    for (const auto& line : across) {
        grounds.push_back(line.ground());
    }
    const double lit_ground = middle_value(std::move(grounds));
    const double dark = std::min(shadow.shade, shadow.face);
    std::vector<std::optional<double>> inward(across.size());
    for (std::size_t i = 0; i < across.size(); ++i) {
        const double falls_mm = steady[i].outward.dot(shadow.mm);
        if (falls_mm > least_fall_mm) {
            const auto foot = foot_inward_mm(across[i], falls_mm, dark, lit_ground);
            inward[i] = foot.value_or(0) > hidden[i] + least_mm ? foot : std::nullopt;
        }
    }
    return inward;
}

std::vector<Run> edges_of(const std::vector<std::optional<double>>& inward) {
    constexpr std::size_t longest_gap = 8;
    std::vector<bool> told;
    told.reserve(inward.size());
    for (const auto& foot : inward) {
        told.push_back(foot.has_value());
    }
    auto runs = runs_around(told, longest_gap);
    runs.erase(std::remove_if(runs.begin(), runs.end(), [](const Run& run) { return run.count < fewest; }),
               runs.end());
    return runs;
}

// Whether each point lies on one of the runs or beside it, where the outline crosses from the part's edge to
// its shadow's border.
std::vector<bool> on_or_beside(const std::vector<Run>& runs, std::size_t count, std::size_t beside) {
    std::vector<bool> marked(count, false);
    for (const auto& run : runs) {
        const std::size_t first = run.first + count - beside;
        const std::size_t all = std::min(count, run.count + 2 * beside);
        for (std::size_t k = 0; k < all; ++k) {
            marked[(first + k) % count] = true;
        }
    }
    return marked;
}

}  // namespace

double shadow_surroundings_mm(double height_mm) {
    return longest_shadow_mm(height_mm) + ground_mm;
}

ShadowTakenOff shadow_taken_off(const std::vector<OutlinePoint>& outline, const FaceView& bench,
                                const scale::Plane& plane, const Heights& heights, const CastShadow& shadow) {
    const std::size_t n = outline.size();
    const auto plan_mm = outline_mm(outline, plane, heights);
    const auto bench_mm = outline_mm(outline, plane, {bench.height_mm, bench.height_mm});
    // Pixels that do not see a plane have no place on it.
    if (n < fewest || plan_mm.size() != n || bench_mm.size() != n) {
        return {outline, 0};
    }
    const auto steady = on_bench(bench_mm, bench);
    const auto hidden = hidden_mm(plan_mm, bench_mm, steady);
    const double shadow_mm = cv::norm(shadow.mm);
    const auto inward =
        feet_inward_mm(light_across(bench, steady, shadow_mm + ground_mm), steady, hidden, shadow);
    const auto runs = edges_of(inward);
    const double spacing_mm = wrapped_length(places_of(steady)) / static_cast<double>(n) / bench.px_per_mm;
    constexpr double crossing = 2;  // of the shadow's length
    const double beside = std::min(static_cast<double>(n) / 4, crossing * shadow_mm / spacing_mm);
    const auto on_run = on_or_beside(runs, n, 0);
    const auto left_out = on_or_beside(runs, n, static_cast<std::size_t>(beside));
    ShadowTakenOff taken;
    for (std::size_t i = 0; i < n; ++i) {
        if (on_run[i] && inward[i]) {
            const cv::Point2d foot = steady[i].px - steady[i].outward * (*inward[i] * bench.px_per_mm);
            if (const auto px = scale::pixel_from_plane(plane, bench.mm_from_view(foot), bench.height_mm)) {
                taken.outline.push_back({*px, false});
                taken.most_mm = std::max(taken.most_mm, *inward[i] - hidden[i]);
            }
        } else if (!left_out[i]) {
            taken.outline.push_back(outline[i]);
        }
    }
    return taken;
}

}  // namespace stripbook::measure
