#include "photo/signature.h"

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "photo/picture.h"

namespace stripbook::photo {

namespace {

constexpr char with_colours = 1;
constexpr char in_grey = 2;

constexpr int long_side_px = 160;       // an Exif thumbnail's (CIPA DC-008, 4.5.5: 160 x 120)
constexpr double cheap_pixels = 1.5e6;  // decoded in colour in 2 or 3 ms
constexpr std::size_t brightness_bins = 8;
constexpr std::size_t hue_bins = 7;  // each way
constexpr float hue_reach = 42;      // of CIE a* and b*; what is more vivid counts as this
constexpr std::size_t texture_bins = 6;
constexpr float most_texture = 6;  // doublings of the step from a pixel to the next

// Shares of a picture; a value between two bins counts for both.
class Shares {
  public:
    explicit Shares(std::size_t bins) : sums_(bins, 0) {}

    void add(std::size_t bin, float weight) { sums_[bin] += weight; }
    /// `place`: 0 at the first bin's middle, 1 at the last's.
    void add_between(float place) {
        const auto [bin, behind] = split(place, sums_.size());
        sums_[bin] += 1 - behind;
        sums_[bin + 1] += behind;
    }
    static std::pair<std::size_t, float> split(float place, std::size_t bins) {
        const float at = std::clamp(place, 0.0F, 1.0F) * static_cast<float>(bins - 1);
        const auto bin = std::min(static_cast<std::size_t>(at), bins - 2);
        return {bin, at - static_cast<float>(bin)};
    }
    /// Roots, so that a small share weighs more than its size: a rusty pipe in a grey picture tells much.
    void put_into(std::string& bytes) const {
        float all = 0;
        for (const float sum : sums_) {
            all += sum;
        }
        for (const float sum : sums_) {
            const float root = all > 0 ? std::sqrt(sum / all) : 0;
            bytes += static_cast<char>(static_cast<unsigned char>(std::lround(255 * root)));
        }
    }

  private:
    std::vector<float> sums_;
};

cv::Mat reduced(const cv::Mat& picture) {
    const int long_side = std::max(picture.cols, picture.rows);
    if (long_side <= long_side_px) {
        return picture;
    }
    const double scale = 1.0 * long_side_px / long_side;
    cv::Mat small;
    cv::resize(picture, small,
               {std::max(1, static_cast<int>(picture.cols * scale)),
                std::max(1, static_cast<int>(picture.rows * scale))},
               0, 0, cv::INTER_AREA);
    return small;
}

// Brightness 0 to 100 (CIE L*, or grey as if it were).
void put_brightness(const cv::Mat& brightness, std::string& bytes) {
    Shares shares(brightness_bins);
    for (int y = 0; y < brightness.rows; ++y) {
        for (int x = 0; x < brightness.cols; ++x) {
            shares.add_between(brightness.at<float>(y, x) / 100);
        }
    }
    shares.put_into(bytes);
}

void put_hues(const cv::Mat& a, const cv::Mat& b, std::string& bytes) {
    Shares shares(hue_bins * hue_bins);
    const auto place = [](float value) { return (value / hue_reach + 1) / 2; };
    for (int y = 0; y < a.rows; ++y) {
        for (int x = 0; x < a.cols; ++x) {
            const auto [i, i_behind] = Shares::split(place(a.at<float>(y, x)), hue_bins);
            const auto [j, j_behind] = Shares::split(place(b.at<float>(y, x)), hue_bins);
            shares.add(i * hue_bins + j, (1 - i_behind) * (1 - j_behind));
            shares.add(i * hue_bins + j + 1, (1 - i_behind) * j_behind);
            shares.add((i + 1) * hue_bins + j, i_behind * (1 - j_behind));
            shares.add((i + 1) * hue_bins + j + 1, i_behind * j_behind);
        }
    }
    shares.put_into(bytes);
}

void put_texture(const cv::Mat& brightness, std::string& bytes) {
    Shares shares(texture_bins);
    for (int y = 0; y + 1 < brightness.rows; ++y) {
        for (int x = 0; x + 1 < brightness.cols; ++x) {
            const float here = brightness.at<float>(y, x);
            const float step =
                std::hypot(brightness.at<float>(y, x + 1) - here, brightness.at<float>(y + 1, x) - here);
            shares.add_between(std::log2(1 + step) / most_texture);
        }
    }
    shares.put_into(bytes);
}

// A small picture in colour, or nothing when there is none to be had cheaply.
cv::Mat small_colours(const cv::Mat& grey, std::string_view thumbnail, std::string_view file_bytes) {
    if (!thumbnail.empty()) {
        const Picture small = decode_colour(thumbnail);
        if (small.whole && small.pixels.channels() == 3) {
            return reduced(small.pixels);
        }
    }
    if (static_cast<double>(grey.total()) > cheap_pixels) {
        return {};
    }
    const Picture small = decode_colour(file_bytes, 2 * long_side_px);
    return small.whole && small.pixels.channels() == 3 ? reduced(small.pixels) : cv::Mat();
}

}  // namespace

std::string signature_of(const cv::Mat& grey, std::string_view thumbnail, std::string_view file_bytes) {
    if (grey.empty()) {
        return {};
    }
    const cv::Mat colours = small_colours(grey, thumbnail, file_bytes);
    cv::Mat brightness;
    if (colours.empty()) {
        std::string bytes(1, in_grey);
        reduced(grey).convertTo(brightness, CV_32F, 100.0 / 255);
        put_brightness(brightness, bytes);
        put_texture(brightness, bytes);
        return bytes;
    }
    cv::Mat lab;
    colours.convertTo(lab, CV_32F, 1.0 / 255);
    cv::cvtColor(lab, lab, cv::COLOR_BGR2Lab);
    std::vector<cv::Mat> planes;
    cv::split(lab, planes);
    std::string bytes(1, with_colours);
    put_brightness(planes[0], bytes);
    put_hues(planes[1], planes[2], bytes);
    put_texture(planes[0], bytes);
    return bytes;
}

}  // namespace stripbook::photo
