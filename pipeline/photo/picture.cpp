#include "photo/picture.h"

#include <fmt/format.h>

#include <opencv2/imgproc.hpp>

#include "photo/jpeg_decoder.h"
#include "photo/picture_head.h"
#include "photo/raster_decoder.h"

namespace stripbook::photo {

namespace {

constexpr const char* not_ours = "not a picture this program reads (JPEG, PNG and TIFF are)";

Picture faulty(cv::Size stored, std::string fault) {
    return {{}, stored, 1, false, std::move(fault)};
}

// What the head alone tells against decoding; empty when nothing.
std::string fault_of(std::string_view file_bytes, const PictureHead& head) {
    if (file_bytes.empty()) {
        return "empty file";
    }
    if (head.format == FileFormat::unknown) {
        return not_ours;
    }
    if (head.thumbnail) {
        return "a camera's raw file: not a picture this program reads (save it as JPEG or TIFF)";
    }
    if (head.size.empty()) {
        return "cut short or damaged: nothing of the picture can be read";
    }
    if (static_cast<double>(head.size.width) * head.size.height > most_pixels) {
        return fmt::format("{} x {} pixels: too large, this program reads up to {:.0f} million",
                           head.size.width, head.size.height, most_pixels / 1e6);
    }
    return {};
}

void note_damage(Picture& picture) {
    picture.whole = false;
    picture.fault =
        picture.pixels.empty()
            ? "damaged, or of a kind this program does not read: nothing of the picture can be read"
            : "cut short or damaged: only a part of the picture can be read";
}

Picture decode(std::string_view file_bytes, bool grey, int long_side_px) {
    const PictureHead head = read_picture_head(file_bytes);
    if (const std::string fault = fault_of(file_bytes, head); !fault.empty()) {
        return faulty(head.size, fault);
    }
    Picture picture;
    picture.stored = head.size;
    bool damaged = false;
    if (head.format == FileFormat::jpeg) {
        JpegPixels jpeg = decode_jpeg(file_bytes, head.size, grey, long_side_px);
        picture.pixels = jpeg.pixels;
        picture.scale = jpeg.scale;
        damaged = jpeg.damaged;
    } else {
        picture.pixels = decode_raster(file_bytes, head.format);
        damaged = picture.pixels.size() != head.size;
    }
    const int channels = grey ? 1 : 3;
    if (!picture.pixels.empty() && picture.pixels.channels() != channels) {
        cv::cvtColor(picture.pixels, picture.pixels, grey ? cv::COLOR_BGR2GRAY : cv::COLOR_GRAY2BGR);
    }
    if (damaged) {
        note_damage(picture);
    }
    return picture;
}

}  // namespace

FileFormat format_of(std::string_view file_bytes) {
    return read_picture_head(file_bytes).format;
}

cv::Size stored_size(std::string_view file_bytes) {
    return read_picture_head(file_bytes).size;
}

Picture decode_grey(std::string_view file_bytes) {
    return decode(file_bytes, true, 0);
}

Picture decode_colour(std::string_view file_bytes, int long_side_px) {
    return decode(file_bytes, false, long_side_px);
}

}  // namespace stripbook::photo
