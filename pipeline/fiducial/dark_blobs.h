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

/// The contrast from which a neighbourhood is looked at, grey levels: chosen between these by the picture's
/// noise.
struct ContrastRange {
    int least = 18;
    int most = 48;
    double darkest_share = 0.7;  ///< print is at most this share of the paper's level
};

/// Dark is darker than the middle between the darkest and the brightest pixel of the neighbourhood (3 x 3
/// tiles of 8 x 8 pixels); neighbourhoods too flat hold nothing. Blobs whose box is of another size, longer
/// than 2.6 to 1, or less than a fifth dark are left out.
std::vector<DarkBlob> dark_blobs(const cv::Mat& grey, const BlobSize& size, const ContrastRange& contrast);

}  // namespace stripbook::fiducial
