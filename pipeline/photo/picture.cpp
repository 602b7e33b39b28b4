#include "photo/picture.h"

#include <fmt/format.h>

#include <algorithm>
#include <opencv2/imgproc.hpp>

#include "photo/heif_decoder.h"
#include "photo/jpeg_decoder.h"
#include "photo/picture_head.h"
#include "photo/raster_decoder.h"
#include "photo/raw_preview.h"

namespace stripbook::photo {

namespace {

constexpr const char* not_ours =
    "not a picture this program reads (JPEG, HEIC, PNG, TIFF and cameras' raw files are)";

Picture faulty(cv::Size stored, std::string fault) {
    return {{}, stored, 1, false, std::move(fault), {}};
}

// What the head alone tells against decoding; empty when nothing.
std::string fault_of(std::string_view file_bytes, const PictureHead& head) {
    if (file_bytes.empty()) {
        return "empty file";
    }
    if (head.format == FileFormat::unknown) {
        return not_ours;
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

Picture decode(std::string_view file_bytes, bool grey, int long_side_px);

Picture decode_preview(std::string_view file_bytes, bool grey, int long_side_px) {
    const std::string preview = raw_preview(file_bytes);
    const cv::Size size = stored_size(preview);
    if (size.empty()) {
        return faulty({}, "a camera's raw file without a preview that can be read (save it as JPEG or TIFF)");
    }
    if (std::max(size.width, size.height) < least_preview_long_side_px) {
        return faulty(
            {}, fmt::format("a camera's raw file whose preview is only {} x {}: no tag can be read in it "
                            "(save it as JPEG or TIFF)",
                            size.width, size.height));
    }
    Picture picture = decode(preview, grey, long_side_px);
    picture.note =
        fmt::format("a camera's raw file: its preview of {} x {} was read", size.width, size.height);
    return picture;
}

Picture decode(std::string_view file_bytes, bool grey, int long_side_px) {
    const PictureHead head = read_picture_head(file_bytes);
    if (head.format == FileFormat::raw) {
        return decode_preview(file_bytes, grey, long_side_px);
    }
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
        picture.pixels = head.format == FileFormat::heif
                             ? decode_heif(file_bytes, read_heif_container(file_bytes))
                             : decode_raster(file_bytes, head.format);
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
    const PictureHead head = read_picture_head(file_bytes);
    return head.format == FileFormat::raw ? read_picture_head(raw_preview(file_bytes)).size : head.size;
}

Picture decode_grey(std::string_view file_bytes) {
    return decode(file_bytes, true, 0);
}

Picture decode_colour(std::string_view file_bytes, int long_side_px) {
    return decode(file_bytes, false, long_side_px);
}

}  // namespace stripbook::photo
