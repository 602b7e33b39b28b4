#include "photo/metadata.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <exiv2/exiv2.hpp>
#include <memory>

#include "photo/exif_time.h"
#include "photo/heif_decoder.h"
#include "photo/one_line.h"

namespace stripbook::photo {

namespace {

constexpr const char* damaged_exif = "the camera data (Exif) is damaged";

std::string text_of(const Exiv2::ExifData& exif, const char* key) {
    const auto found = exif.findKey(Exiv2::ExifKey(key));
    return found == exif.end() ? std::string() : one_line(found->toString());
}

std::optional<double> positive_number(const Exiv2::ExifData& exif, const char* key) {
    const auto found = exif.findKey(Exiv2::ExifKey(key));
    if (found == exif.end() || found->count() < 1) {
        return std::nullopt;
    }
    const Exiv2::Rational rational = found->toRational();
    const double value = static_cast<double>(rational.first) / static_cast<double>(rational.second);
    return rational.second != 0 && std::isfinite(value) && value > 0 ? std::optional(value) : std::nullopt;
}

// Some makers put a field into the wrong directory of the Exif data, and leave the right one out or blank
// (HTC One M8: maker and model; Kodak C663: 35 mm focal length).
std::string text_of_either(const Exiv2::ExifData& exif, const char* key, const char* misplaced) {
    const std::string text = text_of(exif, key);
    return text.empty() ? text_of(exif, misplaced) : text;
}

int orientation_of(const Exiv2::ExifData& exif) {
    const auto found = exif.findKey(Exiv2::ExifKey("Exif.Image.Orientation"));
    if (found == exif.end() || found->count() < 1) {
        return 1;
    }
    const auto value = found->toLong();
    return value >= 1 && value <= 8 ? static_cast<int>(value) : 1;
}

// Exif 2.3's own tag, or what the maker hides in its notes. A serial of nothing but zeros tells no camera
// from another.
std::string serial_of(const Exiv2::ExifData& exif) {
    std::string serial = text_of(exif, "Exif.Photo.BodySerialNumber");
    if (serial.empty()) {
        const auto found = Exiv2::serialNumber(exif);
        serial = found == exif.end() ? std::string() : one_line(found->toString());
    }
    return serial.find_first_not_of("0 ") == std::string::npos ? std::string() : serial;
}

// The three times of Exif, best first, each with its own fraction and offset.
void read_time(const Exiv2::ExifData& exif, Metadata& metadata) {
    struct Keys {
        const char *time, *sub_second, *offset;
    };
    static constexpr Keys best_first[] = {
        {"Exif.Photo.DateTimeOriginal", "Exif.Photo.SubSecTimeOriginal", "Exif.Photo.OffsetTimeOriginal"},
        {"Exif.Photo.DateTimeDigitized", "Exif.Photo.SubSecTimeDigitized", "Exif.Photo.OffsetTimeDigitized"},
        {"Exif.Image.DateTime", "Exif.Photo.SubSecTime", "Exif.Photo.OffsetTime"},
    };
    for (const Keys& keys : best_first) {
        metadata.time = time_of_exif(text_of(exif, keys.time), text_of(exif, keys.sub_second));
        if (!metadata.time.empty()) {
            metadata.utc_offset = offset_of_exif(text_of(exif, keys.offset));
            return;
        }
    }
}

// A damaged thumbnail is no loss that a person need hear of.
std::string thumbnail_of(const Exiv2::ExifData& exif) {
    try {
        const Exiv2::DataBuf jpeg = Exiv2::ExifThumbC(exif).copy();
        return {reinterpret_cast<const char*>(jpeg.pData_), static_cast<std::size_t>(jpeg.size_)};
    } catch (const std::exception&) {
        return {};
    }
}

void take_over(const Exiv2::ExifData& exif, Metadata& metadata) {
    metadata.maker = text_of_either(exif, "Exif.Image.Make", "Exif.Photo.0x010f");
    metadata.model = text_of_either(exif, "Exif.Image.Model", "Exif.Photo.0x0110");
    metadata.lens = text_of(exif, "Exif.Photo.LensModel");
    metadata.serial = serial_of(exif);
    metadata.orientation = orientation_of(exif);
    metadata.focal_length_mm = positive_number(exif, "Exif.Photo.FocalLength");
    metadata.focal_length_35_mm = positive_number(exif, "Exif.Photo.FocalLengthIn35mmFilm");
    if (!metadata.focal_length_35_mm) {
        metadata.focal_length_35_mm = positive_number(exif, "Exif.Image.0xa405");
    }
    read_time(exif, metadata);
    metadata.thumbnail = thumbnail_of(exif);
}

// exiv2 does not find the Exif data in every HEIC, so libheif takes them out for it.
Metadata read_heif_metadata(std::string_view file_bytes) {
    Metadata metadata;
    try {
        const std::string block = heif_exif(file_bytes);
        Exiv2::ExifData exif;
        if (!block.empty()) {
            Exiv2::ExifParser::decode(exif, reinterpret_cast<const Exiv2::byte*>(block.data()),
                                      static_cast<std::uint32_t>(block.size()));
        }
        take_over(exif, metadata);
    } catch (const std::exception&) {
        metadata.fault = damaged_exif;
    }
    metadata.orientation = read_heif_container(file_bytes).orientation.value_or(metadata.orientation);
    return metadata;
}

}  // namespace

Metadata read_metadata(std::string_view file_bytes) {
    Metadata metadata;
    if (file_bytes.empty()) {
        metadata.fault = "empty file";
        return metadata;
    }
    Exiv2::LogMsg::setLevel(Exiv2::LogMsg::mute);
    if (is_heif(file_bytes)) {
        return read_heif_metadata(file_bytes);
    }
    Exiv2::enableBMFF();  // CR3: off until asked for
    std::unique_ptr<Exiv2::Image> image;
    try {
        image.reset(Exiv2::ImageFactory::open(reinterpret_cast<const Exiv2::byte*>(file_bytes.data()),
                                              static_cast<long>(file_bytes.size()))
                        .release());
        image->readMetadata();
    } catch (const std::exception&) {
        metadata.fault = image == nullptr ? "not a picture this program reads: no camera data"
                                          : "cut short or damaged: camera data (Exif) may be missing";
    }
    if (image == nullptr) {
        return metadata;
    }
    try {
        take_over(image->exifData(), metadata);  // after a failure, what was read before it
    } catch (const std::exception&) {
        metadata.fault = damaged_exif;
    }
    return metadata;
}

}  // namespace stripbook::photo
