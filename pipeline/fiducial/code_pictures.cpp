#include "fiducial/code_pictures.h"

extern "C" {
#include <apriltag/apriltag.h>
#include <apriltag/tag25h9.h>
#include <apriltag/tag36h11.h>
}

#include <cmath>
#include <opencv2/core/hal/intrin.hpp>
#include <opencv2/imgproc.hpp>

namespace stripbook::fiducial {

namespace {

constexpr int together = 16;  // identities compared in one go

const apriltag_family_t& library_family(Family family) {
    // They live as long as the process.
    static const apriltag_family_t* const far = tag36h11_create();
    static const apriltag_family_t* const near = tag25h9_create();
    return family == Family::tag36h11 ? *far : *near;
}

// The whole fiducial upright as we print it (the library's drawing turned by half), with two modules of paper
// around.
cv::Mat1f drawn(const apriltag_family_t& family, int identity) {
    constexpr int paper = 2;
    const int across = family.width_at_border;
    cv::Mat1f modules(across + 2 * paper, across + 2 * paper, 1.F);
    modules(cv::Rect(paper, paper, across, across)) = 0.F;
    const auto code = family.codes[identity];
    for (std::uint32_t bit = 0; bit < family.nbits; ++bit) {
        const bool white = (code >> (family.nbits - 1 - bit) & 1U) != 0;
        const int x = across - 1 - static_cast<int>(family.bit_x[bit]);
        const int y = across - 1 - static_cast<int>(family.bit_y[bit]);
        modules(y + paper, x + paper) = white ? 1.F : 0.F;
    }
    return modules;
}

// Share of a bell-shaped blur that falls on the module `away` modules off, for a point in a module's middle.
float share_of(int away, double blur_modules) {
    const double root = blur_modules * std::sqrt(2.0);
    return static_cast<float>(0.5 * (std::erf((away + 0.5) / root) - std::erf((away - 0.5) / root)));
}

cv::Mat1f blurred(const cv::Mat1f& modules, double blur_modules) {
    cv::Mat1f kernel(5, 1);
    for (int i = 0; i < 5; ++i) {
        kernel(i, 0) = share_of(i - 2, blur_modules);
    }
    cv::Mat1f out;
    cv::sepFilter2D(modules, out, CV_32F, kernel, kernel, {-1, -1}, 0, cv::BORDER_REPLICATE);
    return out;
}

}  // namespace

int data_across(Family family) {
    return family == Family::tag36h11 ? 6 : 5;
}

CodePictures::CodePictures(Family family, double blur_modules) {
    const apriltag_family_t& codes = library_family(family);
    identities_ = static_cast<int>(codes.ncodes);
    padded_ = (identities_ + together - 1) / together * together;
    const int across = data_across(family);
    modules_ = across * across;
    levels_.assign(static_cast<std::size_t>(padded_ * modules_), 0.F);
    for (int identity = 0; identity < identities_; ++identity) {
        const cv::Mat1f whole = blurred(drawn(codes, identity), blur_modules);
        cv::Mat1f data = whole(cv::Rect(3, 3, across, across)).clone();  // two of paper and the border
        data -= cv::mean(data)[0];
        data /= cv::norm(data);
        for (int m = 0; m < modules_; ++m) {
            const int block = identity / together;
            levels_[static_cast<std::size_t>((block * modules_ + m) * together + identity % together)] =
                data(m / across, m % across);
        }
    }
}

void CodePictures::correlate(const std::vector<float>& seen, std::vector<float>& likeness) const {
    float mean = 0;
    for (const float v : seen) {
        mean += v;
    }
    mean /= static_cast<float>(modules_);
    float squares = 0;
    for (const float v : seen) {
        squares += (v - mean) * (v - mean);
    }
    const float scale = squares > 0 ? 1 / std::sqrt(squares) : 0.F;
    std::array<float, 64> even;
    for (int m = 0; m < modules_; ++m) {
        even[static_cast<std::size_t>(m)] = (seen[static_cast<std::size_t>(m)] - mean) * scale;
    }
    likeness.resize(static_cast<std::size_t>(padded_));
    const float* levels = levels_.data();
    for (int i = 0; i < padded_; i += together) {
        cv::v_float32x4 a = cv::v_setzero_f32();
        cv::v_float32x4 b = a;
        cv::v_float32x4 c = a;
        cv::v_float32x4 d = a;
        for (int m = 0; m < modules_; ++m, levels += together) {
            const cv::v_float32x4 level = cv::v_setall_f32(even[static_cast<std::size_t>(m)]);
            a = cv::v_muladd(level, cv::v_load(levels), a);
            b = cv::v_muladd(level, cv::v_load(levels + 4), b);
            c = cv::v_muladd(level, cv::v_load(levels + 8), c);
            d = cv::v_muladd(level, cv::v_load(levels + 12), d);
        }
        float* to = likeness.data() + i;
        cv::v_store(to, a);
        cv::v_store(to + 4, b);
        cv::v_store(to + 8, c);
        cv::v_store(to + 12, d);
    }
    likeness.resize(static_cast<std::size_t>(identities_));
}

const std::array<CodePictures, 3>& code_pictures(Family family) {
    constexpr std::array<double, 3> blur{0.15, 0.4, 0.6};
    static const std::array<CodePictures, 3> far{CodePictures(Family::tag36h11, blur[0]),
                                                 CodePictures(Family::tag36h11, blur[1]),
                                                 CodePictures(Family::tag36h11, blur[2])};
    static const std::array<CodePictures, 3> near{CodePictures(Family::tag25h9, blur[0]),
                                                  CodePictures(Family::tag25h9, blur[1]),
                                                  CodePictures(Family::tag25h9, blur[2])};
    return family == Family::tag36h11 ? far : near;
}

}  // namespace stripbook::fiducial
