#include "measure/bore_model.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <memory>
#include <vector>

#include "measure/blurred_steps.h"
#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

constexpr double usual_step = 0.2;        // of the light between two surfaces; white is 1
constexpr double broken_edge_step = 0.2;  // of the face's light: how much the broken edge's differs
constexpr double shadow_cost = 25;        // for each mm of depth: in deep holes shadows end far from the rim
constexpr double most_cost = 300;         // of one direction: stains and chips are no part of the model
constexpr double thin_mm = 3;             // thinner: its edge is broken by less than the blur's reach
constexpr double margin_px = 2.5;         // of face and bench beyond all edges tried

struct Bore {
    Circle rim;          // px, from the rough hole's centre
    double edge_px = 0;  // how far the face's rim lies outside it
};

// Where the ray from the origin meets a circle around it.
double ray_to(const Circle& circle, cv::Point2d out) {
    const double aside = circle.centre.cross(out);
    return circle.centre.dot(out) + std::sqrt(std::max(0.0, circle.radius * circle.radius - aside * aside));
}

class BoreModel {
  public:
    BoreModel(const FaceView& view, const Circle& rough_px, const BoreLooks& looks)
        : rough_radius_(rough_px.radius),
          reach_px_(reach(view, looks)),
          widest_edge_px_(looks.widest_edge_mm * view.px_per_mm),
          shadow_cost_(shadow_cost * std::max(1.0, looks.sight.depth_mm)),
          from_foot_(rough_px.centre - view.view_from_mm(looks.sight.foot_mm)),
          above_px_(looks.sight.above_mm * view.px_per_mm),
          depth_px_(looks.sight.depth_mm * view.px_per_mm),
          zone_{rough_px.centre, std::max(1.0, rough_radius_ - reach_px_ - margin_px - shadow_px),
                rough_radius_ + reach_px_ + widest_edge_px_ + margin_px},
          light_(std::make_unique<BlurredSteps>(view.picture, zone_, looks.blur_px)) {
        find_noise();
    }

    // A best radius at the end of what was tried is no best at all.
    [[nodiscard]] bool at_bound(const Circle& rim) const {
        constexpr double nearly = 0.95;
        return std::abs(rim.radius - rough_radius_) > nearly * reach_px_;
    }
    [[nodiscard]] bool possible(const Bore& bore) const {
        return bore.edge_px >= 0 && bore.edge_px <= widest_edge_px_ + slack_px &&
               std::abs(bore.rim.radius - rough_radius_) <= reach_px_;
    }

    [[nodiscard]] double misfit(const Bore& bore) const {
        double sum = 0;
        for (int ray = 0; ray < BlurredSteps::rays; ++ray) {
            const double cost = misfit_along(ray, bore, shadow_cost_);
            sum += most_cost * cost / (most_cost + cost);
        }
        return sum;
    }

    // The best of a lattice of radii and broken edges.
    [[nodiscard]] Bore rough_best() const {
        constexpr double radius_step = 0.5;
        constexpr double edge_step = 0.75;
        Bore best;
        double least = std::numeric_limits<double>::max();
        for_each(radius_step, edge_step, [&](const Bore& bore) {
            const double here = misfit(bore);
            if (here < least) {
                least = here;
                best = bore;
            }
        });
        return best;
    }

  private:
    static constexpr double slack_px = 0.1;
    static constexpr double shadow_px = 2;  // further in than the rim: room for a shadow's border

    // From the rough radius: the blur's pull, but not from one rim of a broken edge to the other.
    static double reach(const FaceView& view, const BoreLooks& looks) {
        constexpr double blur_reach_px = 2;
        constexpr double within_one_rim_mm = 0.28;
        return looks.sight.depth_mm > thin_mm ? std::min(blur_reach_px, within_one_rim_mm * view.px_per_mm)
                                              : blur_reach_px;
    }

    template <typename Visit>
    void for_each(double radius_step, double edge_step, const Visit& visit) const {
        const int radii = static_cast<int>(2 * reach_px_ / radius_step) + 1;
        const int edges = static_cast<int>((widest_edge_px_ + slack_px) / edge_step) + 1;
        for (int e = 0; e < edges; ++e) {
            for (int r = 0; r < radii; ++r) {
                visit(Bore{{{}, rough_radius_ - reach_px_ + r * radius_step, 0}, e * edge_step});
            }
        }
    }

    // What lies higher or lower than the bore's rim appears moved from the camera's foot (hole_rims.h).
    [[nodiscard]] Circle moved(const Circle& circle, double higher_px) const {
        const double scale = above_px_ / (above_px_ - higher_px);
        return {circle.centre + (from_foot_ + circle.centre) * (scale - 1), circle.radius * scale, 0};
    }

    // Squares left over the noise's, with the shadow's border where it explains most.
    [[nodiscard]] double misfit_along(int ray, const Bore& bore, double cost_of_shadow) const {
        const cv::Point2d out = BlurredSteps::direction(ray);
        const Circle face_rim{bore.rim.centre, bore.rim.radius + bore.edge_px, 0};
        const int rim = light_->place_of(ray_to(bore.rim, out));
        const int face = light_->place_of(ray_to(moved(face_rim, bore.edge_px), out));
        const int foot = std::min(rim, light_->place_of(ray_to(moved(bore.rim, -depth_px_), out)));
        const double stiffness = noise_ / (usual_step * usual_step);
        constexpr double darkest_face = 0.01;
        const double edge_step = broken_edge_step * std::max(darkest_face, light_->outer_light(ray));
        const auto cost = [&](int inner) {
            BlurredSteps::Steps steps;
            if (inner < rim) {
                steps.add({inner, stiffness});
            }
            steps.add({rim, stiffness});
            if (face > rim) {
                steps.add({face, noise_ / (edge_step * edge_step)});
            }
            return light_->squares_left(ray, steps) / noise_;
        };
        double least = cost(foot);
        constexpr int step = 2;  // places
        constexpr double least_bench_px = 1.5;
        const int innermost = light_->place_of(zone_.from_px + least_bench_px);
        for (int shadow = rim; shadow >= innermost; shadow -= step) {
            if (shadow != foot) {
                least = std::min(least, cost(shadow) + cost_of_shadow);
            }
        }
        return least;
    }

    // Of one reading: what the best model of each direction by itself leaves, in the middle of them.
    void find_noise() {
        constexpr int every = 2;
        constexpr int levels = 4;
        std::vector<double> left;
        for (int ray = 0; ray < BlurredSteps::rays; ray += every) {
            double least = std::numeric_limits<double>::max();
            for_each(1, 1, [&](const Bore& bore) { least = std::min(least, misfit_along(ray, bore, 0)); });
            left.push_back(least * noise_ / (light_->readings() - 3 * levels));
        }
        constexpr double least_noise = 1e-7;
        noise_ = std::max(least_noise, middle_value(std::move(left)));
    }

    double rough_radius_;
    double reach_px_;
    double widest_edge_px_;
    double shadow_cost_;
    cv::Point2d from_foot_;
    double above_px_;
    double depth_px_;
    RayZone zone_;
    std::unique_ptr<BlurredSteps> light_;
    double noise_ = 1e-4;  // variance of a reading; to begin with, that of some grey levels
};

// The bore with one of its four numbers changed.
std::array<Bore, 4> neighbours(const Bore& bore, double by) {
    std::array<Bore, 4> near{bore, bore, bore, bore};
    near[0].rim.centre.x += by;
    near[1].rim.centre.y += by;
    near[2].rim.radius += by;
    near[3].edge_px = std::max(0.0, bore.edge_px + by);
    return near;
}

// A bore that fits, step by step better.
class Search {
  public:
    Search(const BoreModel& model, const Bore& start)
        : model_(model), best_(start), least_(model.misfit(start)) {}

    // All four numbers in turn, one step down, then up. Whether any of it was better.
    bool go_on(double step) {
        bool better = false;
        for (const double by : {-step, step}) {
            for (std::size_t number = 0; number < 4; ++number) {
                better = take(neighbours(best_, by)[number]) || better;
            }
        }
        return better;
    }
    [[nodiscard]] const Bore& best() const { return best_; }

  private:
    bool take(const Bore& tried) {
        const double misfit = model_.possible(tried) ? model_.misfit(tried) : least_;
        if (!(misfit < least_)) {
            return false;
        }
        best_ = tried;
        least_ = misfit;
        return true;
    }

    const BoreModel& model_;
    Bore best_;
    double least_;
};

Circle halfway(const Circle& a, const Circle& b) {
    return {(a.centre + b.centre) / 2, (a.radius + b.radius) / 2, a.rms};
}

Bore settled(const BoreModel& model) {
    constexpr int most_rounds = 6;
    Search search(model, model.rough_best());
    for (const double step_px : {1.0, 0.5, 0.25, 0.125}) {
        for (int round = 0; round < most_rounds && search.go_on(step_px); ++round) {
        }
    }
    return search.best();
}

}  // namespace

bool is_shallow(const HoleSight& sight) {
    constexpr double deepest_mm = 6;
    return sight.depth_mm > 0 && sight.depth_mm < deepest_mm;
}

Circle fit_bore(const FaceView& view, const Circle& rough_px, const BoreLooks& looks) {
    const BoreModel model(view, rough_px, looks);
    const Circle rim = settled(model).rim;
    const Circle found{rough_px.centre + rim.centre, rim.radius, rough_px.rms};
    return looks.sight.depth_mm > thin_mm && model.at_bound(found) ? halfway(found, rough_px) : found;
}

}  // namespace stripbook::measure
