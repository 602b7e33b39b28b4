#include "photo/raster_decoder.h"

#include <opencv2/imgcodecs.hpp>

#include "photo/on_white.h"
#include "photo/tiff_directory.h"

namespace stripbook::photo {

namespace {

cv::Mat in_8_bits(const cv::Mat& pixels) {
    if (pixels.depth() == CV_8U) {
        return pixels;
    }
    if (pixels.depth() != CV_16U) {
        return {};  // floating point and signed samples: no camera's and no scanner's photo
    }
    cv::Mat narrow;
    pixels.convertTo(narrow, CV_8U, 255.0 / 65535.0);
    return narrow;
}

cv::Mat decode_unchanged(std::string_view file_bytes) {
    const cv::Mat bytes(1, static_cast<int>(file_bytes.size()), CV_8UC1,
                        const_cast<char*>(file_bytes.data()));
    return cv::imdecode(bytes, cv::IMREAD_UNCHANGED);
}

cv::Mat decode_png(std::string_view file_bytes) {
    const cv::Mat pixels = in_8_bits(decode_unchanged(file_bytes));
    return pixels.channels() == 4 ? on_white(pixels, false) : pixels;
}

cv::Mat decode_tiff(std::string_view file_bytes) {
    const TiffDirectory directory = read_tiff_directory(file_bytes);
    // OpenCV turns a TIFF by its orientation, whatever it is asked for.
    const cv::Mat stored = decode_unchanged(without_orientation(file_bytes, directory));
    const cv::Mat pixels = in_8_bits(stored);
    // It hands out 8-bit colours multiplied by their alpha, 16-bit ones as stored.
    const bool multiplied = stored.depth() == CV_8U || directory.alpha_multiplied;
    return pixels.channels() == 4 ? on_white(pixels, multiplied) : pixels;
}

}  // namespace

cv::Mat decode_raster(std::string_view file_bytes, FileFormat format) {
    const cv::Mat pixels = format == FileFormat::png ? decode_png(file_bytes) : decode_tiff(file_bytes);
    return pixels.channels() == 1 || pixels.channels() == 3 ? pixels : cv::Mat();
}

}  // namespace stripbook::photo
