#include "fiducial/read_at.h"

extern "C" {
#include <apriltag/apriltag.h>
#include <apriltag/tag36h11.h>
}

#include <algorithm>
#include <bit>
#include <cstdint>
#include <opencv2/imgproc.hpp>
#include <vector>

namespace stripbook::fiducial {

namespace {

constexpr int modules = 8;         // black square, border included
constexpr int module_samples = 6;  // pixels a module in the straightened patch
constexpr int white_around = 1;    // modules of paper looked at around the square
constexpr int patch_modules = modules + 2 * white_around;
constexpr double least_contrast = 12;  // grey levels between paper and print

const apriltag_family_t& family() {
    static const apriltag_family_t* made = tag36h11_create();  // lives as long as the process
    return *made;
}

// The square straightened to the library's own upright drawing, with one module of paper around it.
std::optional<cv::Mat> straightened(const cv::Mat& grey, const std::array<PointPx, 4>& corners) {
    const cv::Rect2d inside(0, 0, grey.cols - 1, grey.rows - 1);
    std::array<cv::Point2f, 4> from;
    for (std::size_t i = 0; i < 4; ++i) {
        // Ours is the library's drawing turned by half.
        const PointPx& corner = corners[(i + 2) % 4];
        if (!inside.contains(corner)) {
            return std::nullopt;
        }
        from[i] = corner;
    }
    const float low = white_around * module_samples - 0.5F;
    const float high = (white_around + modules) * module_samples - 0.5F;
    const std::array<cv::Point2f, 4> to{cv::Point2f{low, low}, {high, low}, {high, high}, {low, high}};
    const cv::Mat patch_from_photo = cv::getPerspectiveTransform(from.data(), to.data());
    cv::Mat patch;
    constexpr int side = patch_modules * module_samples;
    cv::warpPerspective(grey, patch, patch_from_photo, {side, side}, cv::INTER_CUBIC, cv::BORDER_REPLICATE);
    return patch;
}

// Mean grey of every module, the middle two thirds of it.
cv::Mat module_means(const cv::Mat& patch) {
    cv::Mat means(patch_modules, patch_modules, CV_64F);
    for (int y = 0; y < patch_modules; ++y) {
        for (int x = 0; x < patch_modules; ++x) {
            const cv::Rect middle(x * module_samples + 1, y * module_samples + 1, module_samples - 2,
                                  module_samples - 2);
            means.at<double>(y, x) = cv::mean(patch(middle))[0];
        }
    }
    return means;
}

// Grey as a plane over the module grid, fitted to modules whose colour is known: light and grime vary over a
// tag.
class GreyPlane {
  public:
    void add(int x, int y, double grey) {
        places_.push_back({static_cast<double>(x), static_cast<double>(y)});
        greys_.push_back(grey);
    }
    void fit() {
        cv::Mat a(static_cast<int>(places_.size()), 3, CV_64F);
        const cv::Mat b(greys_);
        for (int i = 0; i < a.rows; ++i) {
            const auto& place = places_[static_cast<std::size_t>(i)];
            a.at<double>(i, 0) = place.x;
            a.at<double>(i, 1) = place.y;
            a.at<double>(i, 2) = 1;
        }
        cv::solve(a, b, plane_, cv::DECOMP_SVD);
    }
    [[nodiscard]] double at(int x, int y) const { return plane_(0) * x + plane_(1) * y + plane_(2); }

  private:
    std::vector<cv::Point2d> places_;
    std::vector<double> greys_;
    cv::Vec3d plane_;
};

struct PaperAndPrint {
    GreyPlane paper;
    GreyPlane print;
};

// Paper from the ring around the square, print from the square's black border.
PaperAndPrint known_greys(const cv::Mat& means) {
    PaperAndPrint greys;
    const int last = patch_modules - 1;
    for (int y = 0; y <= last; ++y) {
        for (int x = 0; x <= last; ++x) {
            const int to_edge = std::min({x, y, last - x, last - y});
            if (to_edge == 0) {
                greys.paper.add(x, y, means.at<double>(y, x));
            } else if (to_edge == 1) {
                greys.print.add(x, y, means.at<double>(y, x));
            }
        }
    }
    greys.paper.fit();
    greys.print.fit();
    return greys;
}

std::optional<std::uint64_t> sampled_code(const cv::Mat& means) {
    const PaperAndPrint greys = known_greys(means);
    std::uint64_t code = 0;
    for (std::uint32_t bit = 0; bit < family().nbits; ++bit) {
        const int x = static_cast<int>(family().bit_x[bit]) + white_around;
        const int y = static_cast<int>(family().bit_y[bit]) + white_around;
        const double paper = greys.paper.at(x, y);
        const double print = greys.print.at(x, y);
        if (paper - print < least_contrast) {
            return std::nullopt;
        }
        code = (code << 1) | (means.at<double>(y, x) > (paper + print) / 2 ? 1U : 0U);
    }
    return code;
}

}  // namespace

std::optional<Fiducial> read_fiducial_at(const cv::Mat& grey, const std::array<PointPx, 4>& corners,
                                         int most_wrong_bits) {
    const auto patch = straightened(grey, corners);
    if (!patch) {
        return std::nullopt;
    }
    const auto code = sampled_code(module_means(*patch));
    if (!code) {
        return std::nullopt;
    }
    Fiducial best;
    best.bits_corrected = most_wrong_bits + 1;
    for (std::uint32_t identity = 0; identity < family().ncodes; ++identity) {
        const int wrong = std::popcount(family().codes[identity] ^ *code);
        if (wrong < best.bits_corrected) {
            best.bits_corrected = wrong;
            best.identity = static_cast<int>(identity);
        }
    }
    if (best.bits_corrected > most_wrong_bits) {
        return std::nullopt;
    }
    best.corners = corners;
    best.centre = (corners[0] + corners[1] + corners[2] + corners[3]) / 4;
    return best;
}

}  // namespace stripbook::fiducial
