// Dark things on bright ground of about one size: the first and cheapest look for fiducials.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

namespace stripbook::fiducial {

/// A connected set of dark pixels. Frame: the picture handed in, whole numbers are pixel centres.
struct DarkBlob {
    cv::Rect box;
    int pixels = 0;
    /// First and last dark column of each row of the box.
    std::vector<cv::Vec2i> rows;
};

/// How large a blob's box may be, pixels.
struct BlobSize {
    int least = 7;
    int most = 44;
};

/// What is looked for.
struct DarkWish {
    BlobSize size{};
    /// The contrast from which a neighbourhood is looked at, grey levels: chosen between these two by the
    /// picture's noise.
    int least_contrast = 18;
    int most_contrast = 48;
    double darkest_share = 0.7;  ///< print is at most this share of the paper's level
    /// Where between the darkest and the brightest pixel of the neighbourhood dark ends: the middle for clean
    /// print; near the darkest to tell print from dirt, which is darker than paper and brighter than print.
    double limit_share = 0.5;
};

/// Dark is judged in neighbourhoods of 3 x 3 tiles of 8 x 8 pixels; those too flat hold nothing. Blobs whose
/// box is of another size, longer than 2.6 to 1, or less than a fifth dark are left out.
std::vector<DarkBlob> dark_blobs(const cv::Mat& grey, const DarkWish& wish);

}  // namespace stripbook::fiducial
