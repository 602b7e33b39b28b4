#include "sample_maker/photo_file.h"

#include <fmt/format.h>

#include <cmath>
#include <exiv2/exiv2.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "errors.h"
#include "sample_maker/scene.h"

namespace stripbook::sample_maker {

namespace {

// Slightly warm light: blue, green, red.
cv::Mat warm(const cv::Mat1b& grey) {
    constexpr std::array<double, 3> shares{0.90, 0.97, 1.0};
    std::vector<cv::Mat> components(3);
    for (std::size_t i = 0; i < shares.size(); ++i) {
        cv::Mat1b levels(1, 256);
        for (int v = 0; v < 256; ++v) {
            levels(0, v) = cv::saturate_cast<uchar>(v * shares[i]);
        }
        cv::LUT(grey, levels, components[i]);
    }
    cv::Mat colour;
    cv::merge(components, colour);
    return colour;
}

Exiv2::ExifData exif_of(const CameraNotes& notes, cv::Size size) {
    Exiv2::ExifData exif;
    const auto text = [&](const char* key, const std::string& value) {
        if (!value.empty()) {
            exif[key] = value;
        }
    };
    text("Exif.Image.Make", notes.maker);
    text("Exif.Image.Model", notes.model);
    text("Exif.Photo.BodySerialNumber", notes.serial);
    text("Exif.Image.DateTime", notes.time);
    text("Exif.Photo.DateTimeOriginal", notes.time);
    text("Exif.Photo.DateTimeDigitized", notes.time);
    text("Exif.Photo.SubSecTimeOriginal", notes.sub_seconds);
    text("Exif.Photo.OffsetTimeOriginal", notes.utc_offset);
    exif["Exif.Image.Orientation"] = static_cast<uint16_t>(notes.orientation);
    if (notes.focal_length_mm > 0) {
        constexpr int denominator = 100;
        exif["Exif.Photo.FocalLength"] = Exiv2::URational(
            static_cast<uint32_t>(std::lround(notes.focal_length_mm * denominator)), denominator);
    }
    if (notes.focal_length_35_mm > 0) {
        exif["Exif.Photo.FocalLengthIn35mmFilm"] = static_cast<uint16_t>(notes.focal_length_35_mm);
    }
    exif["Exif.Photo.PixelXDimension"] = static_cast<uint32_t>(size.width);
    exif["Exif.Photo.PixelYDimension"] = static_cast<uint32_t>(size.height);
    return exif;
}

}  // namespace

std::string photo_file_of(const cv::Mat& picture, int quality, const CameraNotes& notes) {
    if (quality < 1 || quality > 100) {
        throw WrongUse(fmt::format("A JPEG quality of {} cannot be made: give 1 to 100.", quality));
    }
    if (notes.orientation < 1 || notes.orientation > 8) {
        throw WrongUse(fmt::format("Orientation {} is none of Exif's: give 1 to 8.", notes.orientation));
    }
    std::vector<uchar> jpeg;
    cv::imencode(".jpg", picture, jpeg, {cv::IMWRITE_JPEG_QUALITY, quality});
    auto file = Exiv2::ImageFactory::open(jpeg.data(), static_cast<long>(jpeg.size()));
    file->setExifData(exif_of(notes, picture.size()));
    file->writeMetadata();
    Exiv2::BasicIo& bytes = file->io();
    bytes.open();
    std::string written(static_cast<std::size_t>(bytes.size()), '\0');
    bytes.read(reinterpret_cast<Exiv2::byte*>(written.data()), static_cast<long>(written.size()));
    return written;
}

std::string photo_file_of(const Scene& scene) {
    const cv::Mat1b grey = picture_of(scene);
    return photo_file_of(scene.colour ? warm(grey) : cv::Mat(grey), scene.jpeg_quality, scene.notes);
}

}  // namespace stripbook::sample_maker
