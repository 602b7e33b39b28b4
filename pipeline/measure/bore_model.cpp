#include "measure/bore_model.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <iterator>
#include <limits>
#include <memory>
#include <unordered_map>
#include <vector>

#include "measure/blurred_steps.h"
#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

constexpr double usual_step = 0.2;        // of the light between two surfaces; white is 1
constexpr double broken_edge_step = 0.2;  // of the face's light: how much the broken edge's differs
constexpr double shadow_cost = 25;        // for each mm of depth: in deep holes shadows end far from the rim
constexpr double unseen_foot_cost = 45;   // of one direction
constexpr double most_cost = 300;         // of one direction: stains and chips are no part of the model
constexpr double thin_mm = 2;             // thinner: its edge is broken by less than the blur's reach
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
    // All the starts are held against the same light.
    BoreModel(const FaceView& view, const std::vector<Circle>& starts, const BoreLooks& looks)
        : origin_(starts.front().centre),
          reach_px_(reach(view, looks)),
          widest_edge_px_(looks.widest_edge_mm * view.px_per_mm),
          shadow_cost_(shadow_cost * std::max(1.0, looks.sight.depth_mm)),
          from_foot_(origin_ - view.view_from_mm(looks.sight.foot_mm)),
          above_px_(looks.sight.above_mm * view.px_per_mm),
          depth_px_(looks.sight.depth_mm * view.px_per_mm),
          zone_(zone_of(starts)),
          light_(std::make_unique<BlurredSteps>(view.picture, zone_, looks.blur_px)) {
        for (int ray = 0; ray < BlurredSteps::rays; ++ray) {
            directions_[static_cast<std::size_t>(ray)] = BlurredSteps::direction(ray);
        }
        find_noise(starts.front());
    }

    // A best radius at the end of what was tried is no best at all.
    [[nodiscard]] bool at_bound(double radius, double start) const {
        constexpr double nearly = 0.95;
        return std::abs(radius - start) > nearly * reach_px_;
    }
    [[nodiscard]] bool possible(const Bore& bore, double start) const {
        return bore.edge_px >= 0 && bore.edge_px <= widest_edge_px_ + slack_px &&
               std::abs(bore.rim.radius - start) <= reach_px_;
    }
    [[nodiscard]] cv::Point2d origin() const { return origin_; }

    // Whether the light that was taken holds all about a start.
    [[nodiscard]] bool sees(const Circle& start) const {
        const double off = cv::norm(start.centre - origin_);
        return start.radius - off - reach_px_ - margin_px > zone_.from_px &&
               start.radius + off + reach_px_ + margin_px < zone_.to_px;
    }

    [[nodiscard]] double misfit(const Bore& bore) const {
        double sum = 0;
        for (int ray = 0; ray < BlurredSteps::rays; ++ray) {
            const double cost = known_misfit(ray, places_along(ray, bore));
            sum += most_cost * cost / (most_cost + cost);
        }
        return sum;
    }

    // In how many directions no edge shows where the wall must end at its foot, were this the bore. The
    // search does not ask: where shadow hides the foot, it would be drawn to any edge near by.
    [[nodiscard]] double feet_unseen(const Bore& bore) const {
        constexpr double clear_wall = 8;  // places
        constexpr double faint = 30;      // squares of noise that a faint edge explains
        double unseen = 0;
        for (int ray = 0; ray < BlurredSteps::rays; ++ray) {
            const Places places = places_along(ray, bore);
            if (places.foot < places.rim) {
                const double shows = std::max(0.0, squares_with(ray, places, places.rim) -
                                                       squares_with(ray, places, places.foot)) /
                                     noise_;
                unseen += std::min(1.0, (places.rim - places.foot) / clear_wall) * faint / (faint + shows);
            }
        }
        return unseen;
    }

    // The best of a lattice of radii and broken edges about a start's centre.
    [[nodiscard]] Bore rough_best(const Circle& start) const {
        constexpr double radius_step = 0.5;
        constexpr double edge_step = 0.75;
        Bore best;
        double least = std::numeric_limits<double>::max();
        for_each(start, radius_step, edge_step, [&](const Bore& bore) {
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
        return is_thin(looks.sight) ? blur_reach_px
                                    : std::min(blur_reach_px, within_one_rim_mm * view.px_per_mm);
    }

    // Where the rims of all the starts may be.
    [[nodiscard]] RayZone zone_of(const std::vector<Circle>& starts) const {
        double from = std::numeric_limits<double>::max();
        double to = 0;
        for (const auto& start : starts) {
            const double off = cv::norm(start.centre - origin_);
            from = std::min(from, start.radius - off);
            to = std::max(to, start.radius + off);
        }
        return {origin_, std::max(1.0, from - reach_px_ - margin_px - shadow_px),
                to + reach_px_ + widest_edge_px_ + margin_px};
    }

    template <typename Visit>
    void for_each(const Circle& start, double radius_step, double edge_step, const Visit& visit) const {
        const int radii = static_cast<int>(2 * reach_px_ / radius_step) + 1;
        const int edges = static_cast<int>((widest_edge_px_ + slack_px) / edge_step) + 1;
        for (int e = 0; e < edges; ++e) {
            for (int r = 0; r < radii; ++r) {
                visit(Bore{{start.centre - origin_, start.radius - reach_px_ + r * radius_step, 0},
                           e * edge_step});
            }
        }
    }

    // What lies higher or lower than the bore's rim appears moved from the camera's foot (hole_rims.h).
    [[nodiscard]] Circle moved(const Circle& circle, double higher_px) const {
        const double scale = above_px_ / (above_px_ - higher_px);
        return {circle.centre + (from_foot_ + circle.centre) * (scale - 1), circle.radius * scale, 0};
    }

    // Where the edges of a bore lie on a ray, as places of the light's lattice.
    struct Places {
        int rim = 0, face = 0, foot = 0;
    };

    [[nodiscard]] Places places_along(int ray, const Bore& bore) const {
        const cv::Point2d out = directions_[static_cast<std::size_t>(ray)];
        const Circle face_rim{bore.rim.centre, bore.rim.radius + bore.edge_px, 0};
        Places places;
        places.rim = light_->place_of(ray_to(bore.rim, out));
        places.face = light_->place_of(ray_to(moved(face_rim, bore.edge_px), out));
        places.foot = std::min(places.rim, light_->place_of(ray_to(moved(bore.rim, -depth_px_), out)));
        return places;
    }

    // A search comes by the same places again and again.
    [[nodiscard]] double known_misfit(int ray, const Places& places) const {
        constexpr std::int64_t most_places = 1 << 16;
        const std::int64_t key = (places.rim * most_places + places.face) * most_places + places.foot;
        const auto [known, is_new] = known_[static_cast<std::size_t>(ray)].try_emplace(key, 0);
        if (is_new) {
            known->second = misfit_along(ray, places, shadow_cost_);
        }
        return known->second;
    }

    // Squares left with the steps at the rim and the face's and one further in; none there where it lies at
    // the rim.
    [[nodiscard]] double squares_with(int ray, const Places& places, int inner) const {
        const double stiffness = noise_ / (usual_step * usual_step);
        constexpr double darkest_face = 0.01;
        const double edge_step = broken_edge_step * std::max(darkest_face, light_->outer_light(ray));
        BlurredSteps::Steps steps;
        if (inner < places.rim) {
            steps.add({inner, stiffness});
        }
        steps.add({places.rim, stiffness});
        if (places.face > places.rim) {
            steps.add({places.face, noise_ / (edge_step * edge_step)});
        }
        return light_->squares_left(ray, steps);
    }

    // Squares left over the noise's, with the shadow's border where it explains most.
    [[nodiscard]] double misfit_along(int ray, const Places& places, double cost_of_shadow) const {
        const auto cost = [&](int inner) { return squares_with(ray, places, inner) / noise_; };
        double least = cost(places.foot);
        constexpr int step = 2;  // places
        constexpr double least_bench_px = 1.5;
        const int innermost = light_->place_of(zone_.from_px + least_bench_px);
        // One that alone costs more than what is left without it explains nothing.
        for (int shadow = places.rim; shadow >= innermost && cost_of_shadow < least; shadow -= step) {
            if (shadow != places.foot) {
                least = std::min(least, cost(shadow) + cost_of_shadow);
            }
        }
        return least;
    }

    // Of one reading: what the best model of each direction by itself leaves, in the middle of them.
    void find_noise(const Circle& start) {
        constexpr int every = 2;
        constexpr int levels = 4;
        std::vector<double> left;
        for (int ray = 0; ray < BlurredSteps::rays; ray += every) {
            double least = std::numeric_limits<double>::max();
            for_each(start, 1, 1, [&](const Bore& bore) {
                least = std::min(least, misfit_along(ray, places_along(ray, bore), 0));
            });
            left.push_back(least * noise_ / (light_->readings() - 3 * levels));
        }
        constexpr double least_noise = 1e-7;
        noise_ = std::max(least_noise, middle_value(std::move(left)));
    }

    cv::Point2d origin_;
    double reach_px_;
    double widest_edge_px_;
    double shadow_cost_;
    cv::Point2d from_foot_;
    double above_px_;
    double depth_px_;
    RayZone zone_;
    std::unique_ptr<BlurredSteps> light_;
    std::array<cv::Point2d, BlurredSteps::rays> directions_;
    mutable std::array<std::unordered_map<std::int64_t, double>, BlurredSteps::rays> known_;
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
    Search(const BoreModel& model, const Circle& start)
        : model_(model), start_(start.radius), best_(model.rough_best(start)), least_(model.misfit(best_)) {}

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
    [[nodiscard]] double least() const { return least_; }

  private:
    bool take(const Bore& tried) {
        const double misfit = model_.possible(tried, start_) ? model_.misfit(tried) : least_;
        if (!(misfit < least_)) {
            return false;
        }
        best_ = tried;
        least_ = misfit;
        return true;
    }

    const BoreModel& model_;
    double start_;
    Bore best_;
    double least_;
};

Circle halfway(const Circle& a, const Circle& b) {
    return {(a.centre + b.centre) / 2, (a.radius + b.radius) / 2, a.rms};
}

BoreFit settled(const BoreModel& model, const Circle& start) {
    constexpr int most_rounds = 6;
    Search search(model, start);
    for (const double step_px : {1.0, 0.5, 0.25, 0.125}) {
        for (int round = 0; round < most_rounds && search.go_on(step_px); ++round) {
        }
    }
    const Circle& rim = search.best().rim;
    return {{model.origin() + rim.centre, rim.radius, start.rms},
            search.least() + unseen_foot_cost * model.feet_unseen(search.best())};
}

}  // namespace

bool is_thin(const HoleSight& sight) {
    return sight.depth_mm <= thin_mm;
}

std::vector<BoreFit> fit_bores(const FaceView& view, const std::vector<Circle>& starts_px,
                               const BoreLooks& looks, const std::vector<Circle>& more_px) {
    const BoreModel model(view, starts_px, looks);
    std::vector<Circle> starts = starts_px;
    std::copy_if(more_px.begin(), more_px.end(), std::back_inserter(starts),
                 [&](const Circle& start) { return model.sees(start); });
    std::vector<BoreFit> fits;
    for (const auto& start : starts) {
        BoreFit fit = settled(model, start);
        if (!is_thin(looks.sight) && model.at_bound(fit.rim_px.radius, start.radius)) {
            fit.rim_px = halfway(fit.rim_px, start);
        }
        fits.push_back(fit);
    }
    return fits;
}

}  // namespace stripbook::measure
