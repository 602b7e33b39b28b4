#include "sample_maker/background.h"

#include <fmt/format.h>

#include <array>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <utility>

#include "errors.h"
#include "sample_maker/wear.h"

namespace stripbook::sample_maker {

namespace {

constexpr std::array<std::pair<const char*, BackgroundKind>, 5> kinds{{{"flat", BackgroundKind::flat},
                                                                       {"gradient", BackgroundKind::gradient},
                                                                       {"noise", BackgroundKind::noise},
                                                                       {"wood", BackgroundKind::wood},
                                                                       {"metal", BackgroundKind::metal}}};

// 0 to 1 across the picture in a random direction.
cv::Mat1f ramp(cv::Size size, Dice& dice) {
    const double angle = dice.between(0, 2 * CV_PI);
    const double c = std::cos(angle) / size.width;
    const double s = std::sin(angle) / size.height;
    cv::Mat1f values(size);
    for (int y = 0; y < size.height; ++y) {
        for (int x = 0; x < size.width; ++x) {
            values(y, x) =
                static_cast<float>(0.5 + (c * (x - size.width / 2.0) + s * (y - size.height / 2.0)) / 1.5);
        }
    }
    return values;
}

// Yearly rings cut lengthwise: bands bent by a slow cloud, with fine fibres along them.
cv::Mat1f wood(cv::Size size, Dice& dice) {
    const cv::Mat1f bend = cloud(size, 300, 120, dice);
    cv::Mat1f values = cloud(size, 120, 3, dice);
    for (int y = 0; y < size.height; ++y) {
        for (int x = 0; x < size.width; ++x) {
            const float ring = 0.5F + 0.5F * std::sin(0.12F * static_cast<float>(y) + 25 * bend(y, x));
            values(y, x) = 0.6F * ring + 0.4F * values(y, x);
        }
    }
    return values;
}

// Brushed one way, with stains.
cv::Mat1f metal(cv::Size size, Dice& dice) {
    const cv::Mat1f stains = cloud(size, 90, 90, dice);
    const cv::Mat1f brushed = cloud(size, 200, 2, dice);
    cv::Mat1f values;
    cv::addWeighted(stains, 0.5, brushed, 0.5, 0, values);
    return values;
}

cv::Mat1f pattern(BackgroundKind kind, cv::Size size, Dice& dice) {
    switch (kind) {
        case BackgroundKind::gradient:
            return ramp(size, dice);
        case BackgroundKind::noise:
            return cloud(size, 40, 40, dice);
        case BackgroundKind::wood:
            return wood(size, dice);
        case BackgroundKind::metal:
            return metal(size, dice);
        case BackgroundKind::flat:
            break;
    }
    return {size, 0.5F};
}

}  // namespace

BackgroundKind background_kind(const std::string& name) {
    std::string names;
    for (const auto& [known, kind] : kinds) {
        if (name == known) {
            return kind;
        }
        names += std::string(" ") + known;
    }
    throw WrongUse(fmt::format("\"{}\" is not a background: give one of{}.", name, names));
}

cv::Mat1f draw_background(const Background& background, cv::Size size_px, std::uint64_t seed) {
    Dice dice(seed);
    // Drawn at half the size and enlarged: nothing finer survives a lens, and it takes a quarter of the time.
    const cv::Size half(std::max(1, size_px.width / 2), std::max(1, size_px.height / 2));
    cv::Mat1f small = pattern(background.kind, half, dice);
    small.convertTo(small, CV_32F, background.contrast, background.grey - 0.5 * background.contrast);
    cv::Mat1f picture;
    cv::resize(small, picture, size_px, 0, 0, cv::INTER_LINEAR);
    return picture;
}

}  // namespace stripbook::sample_maker
