#include "fiducial/dark_blobs.h"

#include <algorithm>
#include <array>
#include <bit>
#include <cstdint>
#include <limits>
#include <opencv2/core/hal/intrin.hpp>
#include <opencv2/imgproc.hpp>

namespace stripbook::fiducial {

namespace {

constexpr int tile_px = 8;
constexpr double longest_ratio = 2.6;  // of the box's sides: a square tilted by 60 degrees is 2 to 1
constexpr double least_dark_share = 0.2;

// Darkest and brightest pixel of every whole tile.
struct TileExtremes {
    cv::Mat1b darkest;
    cv::Mat1b brightest;
};

TileExtremes extremes_of(const cv::Mat& grey) {
    const int across = grey.cols / tile_px;
    const int down = grey.rows / tile_px;
    TileExtremes tiles{cv::Mat1b(down, across), cv::Mat1b(down, across)};
    const int whole = across * tile_px;
    cv::Mat1b low(1, whole);
    cv::Mat1b high(1, whole);
    for (int ty = 0; ty < down; ++ty) {
        const cv::Mat band = grey(cv::Rect(0, ty * tile_px, whole, tile_px));
        band.row(0).copyTo(low);
        band.row(0).copyTo(high);
        for (int y = 1; y < tile_px; ++y) {
            cv::min(low, band.row(y), low);
            cv::max(high, band.row(y), high);
        }
        uchar* darkest = tiles.darkest.ptr(ty);
        uchar* brightest = tiles.brightest.ptr(ty);
        for (int tx = 0; tx < across; ++tx) {
            const uchar* l = low.ptr() + tx * tile_px;
            const uchar* h = high.ptr() + tx * tile_px;
            uchar least = l[0];
            uchar most = h[0];
            for (int i = 1; i < tile_px; ++i) {
                least = std::min(least, l[i]);
                most = std::max(most, h[i]);
            }
            darkest[tx] = least;
            brightest[tx] = most;
        }
    }
    return tiles;
}

// How much the grey levels of a tile must differ to hold something: more than noise alone does. Half the
// tiles of a workshop photo show next to nothing, so the middle tile's contrast is the noise's (4.7 standard
// deviations over 64 pixels; 3 x 3 tiles together have 6.3, a third more).
int contrast_beyond_noise(const TileExtremes& tiles, const DarkWish& wish) {
    std::array<int, 256> count{};
    const uchar* low = tiles.darkest.ptr();
    const uchar* high = tiles.brightest.ptr();
    for (std::size_t i = 0; i < tiles.darkest.total(); ++i) {
        ++count[static_cast<std::size_t>(high[i] - low[i])];
    }
    const int half = static_cast<int>(tiles.darkest.total() / 2);
    int below = 0;
    int contrast = 0;
    while (contrast < 255 && below + count[static_cast<std::size_t>(contrast)] < half) {
        below += count[static_cast<std::size_t>(contrast)];
        ++contrast;
    }
    constexpr double more_than_noise = 1.6;
    return std::clamp(static_cast<int>(more_than_noise * contrast), wish.least_contrast, wish.most_contrast);
}

// From here on a tile's brightest level was cut off, and print in it may be bright, too. White with a cast is
// cut off channel by channel, so its grey stays below 255.
uchar saturated_level(const TileExtremes& tiles) {
    constexpr uchar never_below = 225;
    constexpr uchar jpeg_ripple = 3;
    const uchar brightest = *std::max_element(tiles.brightest.begin(), tiles.brightest.end());
    return std::max<uchar>(never_below, static_cast<uchar>(brightest - std::min(brightest, jpeg_ripple)));
}

// The grey level below which a tile's pixels are dark; 0 (nothing is below it) where it is too flat.
cv::Mat1b limits_of(const cv::Mat& grey, const DarkWish& wish) {
    TileExtremes tiles = extremes_of(grey);
    const int least_contrast = contrast_beyond_noise(tiles, wish);
    const cv::Mat around = cv::Mat::ones(3, 3, CV_8U);
    cv::erode(tiles.darkest, tiles.darkest, around);
    cv::dilate(tiles.brightest, tiles.brightest, around);
    cv::Mat1b limits(tiles.darkest.size());
    const uchar saturated = saturated_level(tiles);
    const uchar* lows = tiles.darkest.ptr();
    const uchar* highs = tiles.brightest.ptr();
    std::transform(lows, lows + limits.total(), highs, limits.ptr(), [&](uchar low, uchar high) {
        // White that is cut off has lost its noise, too.
        const bool flat = high < saturated ? high - low < least_contrast || low > wish.darkest_share * high
                                           : high - low < wish.least_contrast;
        return flat ? uchar{0}
                    : static_cast<uchar>(low + 1 + static_cast<int>(wish.limit_share * (high - low)));
    });
    return limits;
}

struct Run {
    int y;
    int first;
    int last;
    std::uint32_t parent;
};

class Runs {
  public:
    // Rows must come in order.
    void add_row(int y, const std::vector<std::uint64_t>& dark) {
        above_ = row_;
        row_ = runs_.size();
        std::uint64_t carry = 0;
        int first = 0;
        for (std::size_t w = 0; w < dark.size(); ++w) {
            // Bits where the colour changes against the pixel to the left.
            std::uint64_t changes = dark[w] ^ ((dark[w] << 1U) | carry);
            carry = dark[w] >> 63U;
            while (changes != 0) {
                const int x = static_cast<int>(w) * 64 + std::countr_zero(changes);
                if ((dark[w] >> (static_cast<unsigned>(x) & 63U) & 1U) != 0) {
                    first = x;
                } else {
                    add_run(y, first, x - 1);
                }
                changes &= changes - 1;
            }
        }
        if (carry != 0) {
            add_run(y, first, static_cast<int>(dark.size()) * 64 - 1);
        }
        join_with_above(y);
    }
    [[nodiscard]] const std::vector<Run>& all() const { return runs_; }
    std::uint32_t root_of(std::uint32_t run) {
        while (runs_[run].parent != run) {
            runs_[run].parent = runs_[runs_[run].parent].parent;
            run = runs_[run].parent;
        }
        return run;
    }

  private:
    void add_run(int y, int first, int last) {
        runs_.push_back({y, first, last, static_cast<std::uint32_t>(runs_.size())});
    }
    void join_with_above(int y) {
        std::size_t up = above_;
        for (std::size_t i = row_; i < runs_.size(); ++i) {
            while (up < row_ && (runs_[up].y < y - 1 || runs_[up].last < runs_[i].first)) {
                ++up;
            }
            for (std::size_t k = up; k < row_ && runs_[k].first <= runs_[i].last; ++k) {
                const std::uint32_t a = root_of(static_cast<std::uint32_t>(k));
                const std::uint32_t b = root_of(static_cast<std::uint32_t>(i));
                // The earlier one stays the root, so that a root comes before its members.
                runs_[std::max(a, b)].parent = std::min(a, b);
            }
        }
    }
    std::vector<Run> runs_;
    std::size_t above_ = 0;
    std::size_t row_ = 0;
};

// The limits of one row of tiles, spread to every pixel.
void spread(const uchar* limits, int tiles, std::vector<uchar>& to_pixels) {
    for (int t = 0; t < tiles; ++t) {
        std::fill_n(to_pixels.begin() + static_cast<std::ptrdiff_t>(t) * tile_px, tile_px, limits[t]);
    }
}

Runs dark_runs(const cv::Mat& grey, const cv::Mat1b& limits) {
    Runs runs;
    constexpr int together = 2 * tile_px;  // pixels compared in one go
    const int pairs = limits.cols / 2;
    std::vector<std::uint64_t> dark(static_cast<std::size_t>(pairs + 3) / 4);
    std::vector<uchar> limit_px(static_cast<std::size_t>(limits.cols) * tile_px);
    std::vector<int> busy;  // pairs of tiles that hold something
    for (int y = 0; y < limits.rows * tile_px; ++y) {
        if (y % tile_px == 0) {
            const uchar* limit = limits.ptr(y / tile_px);
            spread(limit, limits.cols, limit_px);
            busy.clear();
            for (int p = 0; p < pairs; ++p) {
                if ((limit[2 * p] | limit[2 * p + 1]) != 0) {
                    busy.push_back(p);
                }
            }
        }
        const uchar* row = grey.ptr(y);
        std::fill(dark.begin(), dark.end(), 0);
        for (const int p : busy) {
            const auto is_dark = cv::v_load(row + p * together) < cv::v_load(limit_px.data() + p * together);
            dark[static_cast<std::size_t>(p) / 4] |=
                static_cast<std::uint64_t>(static_cast<unsigned>(cv::v_signmask(is_dark)))
                << (16U * (static_cast<unsigned>(p) % 4U));
        }
        runs.add_row(y, dark);
    }
    return runs;
}

struct Extent {
    int left, right, top, bottom, pixels;
};

bool could_be_square(const Extent& e, const BlobSize& size) {
    const int width = e.right - e.left + 1;
    const int height = e.bottom - e.top + 1;
    const auto [shorter, longer] = std::minmax(width, height);
    return shorter * longest_ratio >= longer && longer >= size.least && longer <= size.most &&
           e.pixels >= least_dark_share * width * height;
}

// Which run each run belongs to, and how far each of those sets reaches (at its root's place in the list).
struct Sets {
    std::vector<std::uint32_t> roots;
    std::vector<Extent> extents;
};

Sets sets_of(Runs& runs) {
    const auto& all = runs.all();
    Sets sets{std::vector<std::uint32_t>(all.size()), std::vector<Extent>(all.size())};
    for (std::uint32_t i = 0; i < all.size(); ++i) {
        const Run& run = all[i];
        sets.roots[i] = runs.root_of(i);
        Extent& e = sets.extents[sets.roots[i]];
        if (sets.roots[i] == i) {
            e = {run.first, run.last, run.y, run.y, 0};
        }
        e.left = std::min(e.left, run.first);
        e.right = std::max(e.right, run.last);
        e.bottom = run.y;
        e.pixels += run.last - run.first + 1;
    }
    return sets;
}

DarkBlob empty_blob(const Extent& e) {
    constexpr int nothing_yet = std::numeric_limits<int>::max();
    return {
        cv::Rect(cv::Point(e.left, e.top), cv::Point(e.right + 1, e.bottom + 1)), e.pixels,
        std::vector<cv::Vec2i>(static_cast<std::size_t>(e.bottom - e.top + 1), cv::Vec2i(nothing_yet, -1))};
}

}  // namespace

std::vector<DarkBlob> dark_blobs(const cv::Mat& grey, const DarkWish& wish) {
    if (grey.cols < 2 * tile_px || grey.rows < tile_px) {
        return {};
    }
    Runs runs = dark_runs(grey, limits_of(grey, wish));
    const auto& all = runs.all();
    const Sets sets = sets_of(runs);
    constexpr std::uint32_t none = ~std::uint32_t{0};
    std::vector<std::uint32_t> blob_of(all.size(), none);
    std::vector<DarkBlob> blobs;
    for (std::uint32_t i = 0; i < all.size(); ++i) {
        const Extent& e = sets.extents[sets.roots[i]];
        if (sets.roots[i] == i && could_be_square(e, wish.size)) {
            blob_of[i] = static_cast<std::uint32_t>(blobs.size());
            blobs.push_back(empty_blob(e));
        }
        const std::uint32_t blob = blob_of[sets.roots[i]];
        if (blob != none) {
            cv::Vec2i& row = blobs[blob].rows[static_cast<std::size_t>(all[i].y - e.top)];
            row = {std::min(row[0], all[i].first), std::max(row[1], all[i].last)};
        }
    }
    return blobs;
}

}  // namespace stripbook::fiducial
