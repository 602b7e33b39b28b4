#include "sample_maker/wear.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <utility>

#include "errors.h"

namespace stripbook::sample_maker {

namespace {

// The share of the face under the covers, counted on a raster of about a million points.
double counted_share(cv::Size2d face_mm, const std::vector<Cover>& covers) {
    const double px_per_mm = 1000 / std::sqrt(face_mm.area());
    cv::Mat1b mask(static_cast<int>(std::lround(face_mm.height * px_per_mm)),
                   static_cast<int>(std::lround(face_mm.width * px_per_mm)), uchar{0});
    constexpr int fraction_bits = 4;
    for (const Cover& cover : covers) {
        std::vector<cv::Point> outline;
        for (const cv::Point2d& p : cover.outline_mm) {
            const cv::Point2d px = (p * px_per_mm - cv::Point2d(0.5, 0.5)) * (1 << fraction_bits);
            outline.emplace_back(static_cast<int>(std::lround(px.x)), static_cast<int>(std::lround(px.y)));
        }
        cv::fillPoly(mask, std::vector<std::vector<cv::Point>>{outline}, cv::Scalar(255), cv::LINE_8,
                     fraction_bits);
    }
    return static_cast<double>(cv::countNonZero(mask)) / static_cast<double>(mask.total());
}

// Replaces every value by its rank, 0 to 1.
void spread_by_rank(cv::Mat1f& values) {
    constexpr int bins = 4096;
    double low = 0;
    double high = 0;
    cv::minMaxLoc(values, &low, &high);
    const auto bin_of = [&](float v) {
        return std::clamp(static_cast<int>((v - low) / (high - low + 1e-12) * bins), 0, bins - 1);
    };
    std::vector<int> below(bins + 1, 0);
    for (const float v : values) {
        ++below[static_cast<std::size_t>(bin_of(v)) + 1];
    }
    for (std::size_t i = 1; i < below.size(); ++i) {
        below[i] += below[i - 1];
    }
    for (float& v : values) {
        v = static_cast<float>(below[static_cast<std::size_t>(bin_of(v))]) /
            static_cast<float>(values.total());
    }
}

}  // namespace

Cover cover_of_share(cv::Size2d face_mm, double share, Dice& dice) {
    if (!(share >= 0 && share <= 0.9)) {
        throw WrongUse(fmt::format("A covered share of {} cannot be drawn: give 0 to 0.9.", share));
    }
    const cv::Point2d centre(dice.between(0, face_mm.width), dice.between(0, face_mm.height));
    constexpr int corners = 24;
    std::vector<cv::Point2d> star;
    for (int i = 0; i < corners; ++i) {
        const double angle = 2 * CV_PI * i / corners;
        star.push_back(cv::Point2d(std::cos(angle), std::sin(angle)) * dice.between(0.8, 1.2));
    }
    const auto of_radius = [&](double radius_mm) {
        Cover cover;
        for (const cv::Point2d& p : star) {
            cover.outline_mm.push_back(centre + p * radius_mm);
        }
        return cover;
    };
    double low = 0;
    double high = 2 * (face_mm.width + face_mm.height);
    for (int i = 0; i < 24; ++i) {
        const double radius_mm = (low + high) / 2;
        (counted_share(face_mm, {of_radius(radius_mm)}) < share ? low : high) = radius_mm;
    }
    return of_radius(low);
}

double covered_share(cv::Size2d face_mm, const std::vector<Cover>& covers) {
    return covers.empty() ? 0 : counted_share(face_mm, covers);
}

cv::Mat1f cloud(cv::Size size, double grain_across_px, double grain_down_px, Dice& dice) {
    cv::Mat1f sum(size, 0.F);
    // Each octave has half the grain and half the weight of the one before.
    float weight = 1;
    for (int octave = 0; octave < 3; ++octave) {
        const double shrink = 1 << octave;
        const cv::Size grid(std::max(2, static_cast<int>(size.width * shrink / grain_across_px) + 1),
                            std::max(2, static_cast<int>(size.height * shrink / grain_down_px) + 1));
        cv::Mat1f values(grid.height, grid.width);
        cv::RNG(dice.seed()).fill(values, cv::RNG::UNIFORM, 0, 1);
        cv::Mat1f smooth;
        cv::resize(values, smooth, size, 0, 0, cv::INTER_CUBIC);
        sum += weight * smooth;
        weight /= 2;
    }
    spread_by_rank(sum);
    return sum;
}

cv::Mat1f grime_map(cv::Size2d face_mm, double share, std::uint64_t seed) {
    if (!(share >= 0 && share <= 1)) {
        throw WrongUse(fmt::format("Grime of {} cannot be drawn: give 0 to 1.", share));
    }
    const double px_per_mm = std::min(2.0, 600 / std::max(face_mm.width, face_mm.height));
    const cv::Size size(std::max(2, static_cast<int>(std::lround(face_mm.width * px_per_mm))),
                        std::max(2, static_cast<int>(std::lround(face_mm.height * px_per_mm))));
    Dice dice(seed);
    cv::Mat1f dirt = cloud(size, 14 * px_per_mm, 10 * px_per_mm, dice);         // blotches
    const cv::Mat1f smears = cloud(size, 60 * px_per_mm, 4 * px_per_mm, dice);  // wiped along the face
    std::transform(dirt.begin(), dirt.end(), smears.begin(), dirt.begin(),
                   [](float blotch, float smear) { return std::max(blotch, smear); });
    spread_by_rank(dirt);
    // Ranks above 1 - share are dirty, with a soft edge 0.08 of rank wide either way.
    constexpr float softness = 0.08F;
    const float limit = 1 - static_cast<float>(share);
    for (float& v : dirt) {
        const float t = std::clamp((v - limit + softness) / (2 * softness), 0.F, 1.F);
        v = share > 0 ? t * t * (3 - 2 * t) : 0;
    }
    return dirt;
}

}  // namespace stripbook::sample_maker
