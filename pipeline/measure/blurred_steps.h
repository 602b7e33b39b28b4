// Light along rays from one place, as levels with blurred steps between them.
//
// Two edges nearer to each other than the blur are one dark line to an edge finder, which puts each too far
// from the other by up to the blur. As two steps of one blurred line they come out where they are.
#pragma once

#include <array>
#include <cstddef>
#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::measure {

/// The rays' piece that is looked at: from `from_px` to `to_px` of the centre.
struct RayZone {
    cv::Point2d centre_px;
    double from_px = 0;
    double to_px = 0;
};

class BlurredSteps {
  public:
    static constexpr int rays = 72;
    static constexpr std::size_t most_steps = 4;

    /// Steps from the inside out, at rising places. `stiffness` is how little a step is expected: the inverse
    /// square of the height it may have, times the light's variance.
    struct Step {
        int place = 0;
        double stiffness = 0;
    };
    struct Steps {
        std::array<Step, most_steps> step;
        std::size_t count = 0;
        void add(Step one) { step[count++] = one; }
    };

    /// `blur_px`: standard deviation of the picture's blur as colour_at samples it (edge_blur.h).
    BlurredSteps(const cv::Mat3b& picture, const RayZone& zone, double blur_px);

    /// Unit vector of a ray, pixel frame.
    static cv::Point2d direction(int ray);

    /// The place on the rays' lattice nearest to a distance from the centre; within the zone.
    [[nodiscard]] int place_of(double px) const;
    /// Samples on a ray times the colour channels.
    [[nodiscard]] int readings() const;
    /// Light at the ray's outer end: root mean square of the channels, linear, white is 1.
    [[nodiscard]] double outer_light(int ray) const;
    /// Sum of squares that the best levels leave of the ray's light, with what the stiff steps cost.
    [[nodiscard]] double squares_left(int ray, const Steps& steps) const;

  private:
    struct Ray {
        cv::Mat1d with_steps;  // light times each step
        cv::Vec3d sum;
        double squares = 0;
        double outer_light = 0;
    };

    double from_px_ = 0;
    int samples_ = 0;
    int places_ = 0;
    cv::Mat1d products_;  // of each step with each
    cv::Mat1d sums_;      // of each step
    std::vector<Ray> rays_;
};

}  // namespace stripbook::measure
