// Colours that tell a part from its ground, and a shadow from both. The shadows are made in linear light
// (IEC 61966-2-1), as light is taken away, not in grey levels.
#include <catch2/catch.hpp>
#include <cmath>

#include "measure/closed_line.h"
#include "measure/colour_odds.h"
#include "measure/edge_profile.h"
#include "measure/hue_edge.h"
#include "measure/hue_odds.h"
#include "measure/log_colour.h"

using namespace stripbook::measure;

namespace {

float level(double light) {
    return static_cast<float>(
        255 * (light <= 0.0031308 ? 12.92 * light : 1.055 * std::pow(light, 1 / 2.4) - 0.055));
}

cv::Vec3f levels(const cv::Vec3d& light) {
    return {level(light[0]), level(light[1]), level(light[2])};
}

// BGR, linear light.
const cv::Vec3d bench(0.42, 0.4, 0.38);
const cv::Vec3d brass(0.12, 0.32, 0.42);

struct Ground {
    cv::Mat3f colours = cv::Mat3f(80, 80);
    cv::Mat1b ground = cv::Mat1b(80, 80, uchar{0});
    cv::Mat1b part = cv::Mat1b(80, 80, uchar{0});
};

// Upper half bench, lower half part, both with a little noise.
Ground ground_and(const cv::Vec3d& part) {
    Ground g;
    cv::RNG dice(5);
    for (int y = 0; y < 80; ++y) {
        for (int x = 0; x < 80; ++x) {
            const double noise = 1 + dice.gaussian(0.02);
            g.colours(y, x) = log_colour(levels((y < 40 ? bench : part) * noise));
            (y < 40 ? g.ground : g.part)(y, x) = 255;
        }
    }
    return g;
}

}  // namespace

TEST_CASE("A shadow moves a logarithmic colour along its brightness and hardly else", "[measure]") {
    const cv::Vec3f lit = log_colour(levels(brass));
    const cv::Vec3f half = log_colour(levels(brass * 0.5));
    CHECK(half[0] < lit[0] - 0.2F);
    CHECK(half[1] == Approx(lit[1]).margin(0.02));
    CHECK(half[2] == Approx(lit[2]).margin(0.05));
}

TEST_CASE("A shadow on the bench is bench, brass in the shade is brass", "[measure]") {
    const Ground g = ground_and(brass);
    const ColourOdds odds =
        GroundColours(ColourCounts(g.colours, g.ground)).odds_of(ColourCounts(g.colours, g.part));
    const HueOdds hues(g.colours, g.ground, g.part);
    CHECK(hues.sure() == 1);
    for (const double shade : {1.0, 0.6, 0.3}) {
        CHECK(odds.of(log_colour(levels(bench * shade))) < -1);
        CHECK(odds.of(log_colour(levels(brass * shade))) > 1);
        CHECK(hues.of(log_colour(levels(bench * shade))) < -1);
        CHECK(hues.of(log_colour(levels(brass * shade))) > 1);
    }
    CHECK(odds.of(log_colour({20, 200, 20})) == Approx(0).margin(0.1));  // never seen: says nothing
}

TEST_CASE("Hue says nothing of grey on grey, nor before anything was learnt", "[measure]") {
    const Ground g = ground_and(bench * 0.5);
    const HueOdds hues(g.colours, g.ground, g.part);
    CHECK(hues.sure() == 0);
    CHECK(hues.of(log_colour(levels(bench))) == 0);
    CHECK(HueOdds().of(log_colour(levels(brass))) == 0);
    CHECK(ColourOdds().of(log_colour(levels(brass))) == 0);
}

TEST_CASE("Bright steel on grey paint is told by a hue that hardly differs, not plainly", "[measure]") {
    // Blue over red in linear light: 1.11 of the bench, 0.92 of this steel; 0.29 of brass.
    const Ground g = ground_and({0.33, 0.34, 0.36});
    const HueOdds hues(g.colours, g.ground, g.part);
    CHECK(hues.sure() > 0.9);
    CHECK(hues.plain() < 0.5);
    CHECK(hues.plain() <= hues.sure());
    CHECK(hues.of(log_colour(levels(bench))) < -1);
    CHECK(hues.of(log_colour(levels(bench * 0.5))) < -1);
    CHECK(hues.of(log_colour(levels({0.33, 0.34, 0.36}))) > 1);
    const Ground plain = ground_and(brass);
    CHECK(HueOdds(plain.colours, plain.ground, plain.part).plain() == 1);
}

TEST_CASE("The part's light ends at its edge, whatever shadow lies beside it", "[measure]") {
    const Ground g = ground_and(brass);
    const HueOdds hues(g.colours, g.ground, g.part);
    constexpr double px_per_sample = 0.5;
    constexpr double blur_px = 0.8;
    // From the middle of the profile; a wide shadow draws that outwards.
    for (const auto& [edge_px, shadow_px] :
         {std::pair(-1.7, 0.0), std::pair(-1.7, 2.0), std::pair(-1.7, 3.0), std::pair(-4.6, 4.6)}) {
        std::vector<cv::Vec3f> profile;
        for (int i = -16; i <= 16; ++i) {
            cv::Vec3d sum;
            double weights = 0;
            for (int k = -60; k <= 60; ++k) {  // blurred as a lens does, in linear light
                const double off = k / 20.0;
                const double x = i * px_per_sample + off;
                const double weight = std::exp(-off * off / (2 * blur_px * blur_px));
                const bool shaded = x < edge_px + shadow_px;
                sum += weight * (x < edge_px ? brass : shaded ? bench * 0.25 : bench);
                weights += weight;
            }
            profile.push_back(levels(sum / weights));
        }
        INFO(edge_px << " px, shadow " << shadow_px << " px");
        const auto at = end_of_part_light(profile, px_per_sample, hues);
        REQUIRE(at);
        CHECK((*at - 16) * px_per_sample == Approx(edge_px).margin(0.35));
    }
    CHECK_FALSE(end_of_part_light(std::vector<cv::Vec3f>(33, levels(bench)), px_per_sample, hues));
    CHECK_FALSE(end_of_part_light(std::vector<cv::Vec3f>(5, levels(bench)), px_per_sample, hues));
}

TEST_CASE("What is thin is taken off a closed line, what is thick stays", "[measure]") {
    const std::vector<cv::Point2d> spiked{{0, 0},    {100, 0},  {200, 0},   {200, 60},
                                          {400, 64}, {200, 68}, {200, 150}, {0, 150}};
    double right = 0;
    for (const auto& p : opened_and_closed(spiked, 12)) {
        right = std::max(right, p.x);
    }
    CHECK(right == Approx(200).margin(4));
    CHECK(wrapped_length({{0, 0}, {3, 0}, {3, 4}}) == Approx(12));
    const auto even = evenly_spaced({{0, 0}, {10, 0}, {10, 10}, {0, 10}}, 8);
    REQUIRE(even.size() == 8);
    CHECK(cv::norm(even[1] - cv::Point2d(5, 0)) < 1e-9);
    const auto turned = clockwise({{0, 0}, {0, 10}, {10, 10}, {10, 0}});
    CHECK(turned.front() == cv::Point2d(10, 0));
}
