#include "photo/jpeg_decoder.h"

#include <algorithm>
#include <new>
#include <opencv2/imgproc.hpp>

#include "photo/jpeg_session.h"

namespace stripbook::photo {

namespace {

constexpr int full_size = 8;  // eighths

int scaled(int length_px, int eighths) {
    return (length_px * eighths + full_size - 1) / full_size;
}

int eighths_for(cv::Size stored, int long_side_px) {
    if (long_side_px <= 0) {
        return full_size;
    }
    int eighths = 1;
    while (eighths < full_size && scaled(std::max(stored.width, stored.height), eighths) < long_side_px) {
        ++eighths;
    }
    return eighths;
}

// Sets the jump: plain values only. False when the decoder gave up; the rows before that are there.
bool decode_rows(JpegReader& reader, int eighths, J_COLOR_SPACE into, unsigned char* first_row,
                 std::size_t row_step, cv::Size expected) {
    if (setjmp(reader.report.jump) != 0) {
        return false;
    }
    reader.info.scale_num = static_cast<unsigned>(eighths);
    reader.info.scale_denom = full_size;
    reader.info.out_color_space = into;
    jpeg_start_decompress(&reader.info);
    if (reader.info.output_width != static_cast<unsigned>(expected.width) ||
        reader.info.output_height != static_cast<unsigned>(expected.height)) {
        return false;
    }
    while (reader.info.output_scanline < reader.info.output_height) {
        JSAMPROW row = first_row + row_step * reader.info.output_scanline;
        jpeg_read_scanlines(&reader.info, &row, 1);
    }
    jpeg_finish_decompress(&reader.info);
    return true;
}

// The plain product of ink and black, as viewers without a colour profile do it. Files with an Adobe marker
// hold the inks the other way round, 255 = no ink (common practice, no source).
cv::Mat bgr_of(const cv::Mat& cmyk, bool no_ink_is_255) {
    const int flip = no_ink_is_255 ? 0 : 255;
    cv::Mat bgr(cmyk.size(), CV_8UC3);
    for (int y = 0; y < cmyk.rows; ++y) {
        const auto* from = cmyk.ptr<cv::Vec4b>(y);
        auto* to = bgr.ptr<cv::Vec3b>(y);
        for (int x = 0; x < cmyk.cols; ++x) {
            const int black = from[x][3] ^ flip;
            for (int channel = 0; channel < 3; ++channel) {
                to[x][2 - channel] =
                    static_cast<unsigned char>(((from[x][channel] ^ flip) * black + 127) / 255);
            }
        }
    }
    return bgr;
}

cv::Mat to_grey_or_bgr(const cv::Mat& cmyk, bool no_ink_is_255, bool grey) {
    cv::Mat pixels = bgr_of(cmyk, no_ink_is_255);
    if (grey) {
        cv::cvtColor(pixels, pixels, cv::COLOR_BGR2GRAY);
    }
    return pixels;
}

}  // namespace

JpegPixels decode_jpeg(std::string_view file_bytes, cv::Size stored, bool grey, int long_side_px) {
    JpegReader reader(file_bytes);
    const bool readable = reader.read_head(false);
    if (reader.report.out_of_memory) {
        throw std::bad_alloc();
    }
    if (!readable || static_cast<int>(reader.info.image_width) != stored.width ||
        static_cast<int>(reader.info.image_height) != stored.height) {
        return {{}, 1, true};
    }
    const bool cmyk = reader.info.num_components == 4;
    const int eighths = eighths_for(stored, long_side_px);
    const cv::Size size(scaled(stored.width, eighths), scaled(stored.height, eighths));
    const J_COLOR_SPACE into = cmyk ? JCS_CMYK : grey ? JCS_GRAYSCALE : JCS_EXT_BGR;
    cv::Mat pixels(size, cmyk ? CV_8UC4 : grey ? CV_8UC1 : CV_8UC3);
    const bool complete = decode_rows(reader, eighths, into, pixels.data, pixels.step, size);
    if (reader.report.out_of_memory) {
        throw std::bad_alloc();
    }
    const int rows =
        static_cast<int>(std::min(reader.info.output_scanline, static_cast<unsigned>(size.height)));
    if (rows == 0) {
        return {{}, 1, true};
    }
    pixels.rowRange(rows, size.height).setTo(cv::Scalar::all(128));
    if (cmyk) {
        pixels = to_grey_or_bgr(pixels, reader.info.saw_Adobe_marker != 0, grey);
    }
    return {pixels, static_cast<double>(eighths) / full_size, !complete || reader.report.damaged};
}

}  // namespace stripbook::photo
