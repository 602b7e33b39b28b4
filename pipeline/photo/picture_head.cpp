#include "photo/picture_head.h"

#include <climits>
#include <cstdint>
#include <optional>

#include "photo/file_numbers.h"
#include "photo/heif_container.h"
#include "photo/raw_preview.h"
#include "photo/tiff_directory.h"

namespace stripbook::photo {

namespace {

using namespace std::string_view_literals;

constexpr std::string_view jpeg_start = "\xFF\xD8\xFF"sv;
constexpr std::string_view png_start = "\x89PNG\r\n\x1A\n"sv;

bool starts_with(std::string_view bytes, std::string_view start) {
    return bytes.substr(0, start.size()) == start;
}

cv::Size size_of(std::optional<std::uint32_t> width, std::optional<std::uint32_t> height) {
    const bool plausible =
        width && height && *width > 0 && *height > 0 && *width <= INT_MAX && *height <= INT_MAX;
    return plausible ? cv::Size(static_cast<int>(*width), static_cast<int>(*height)) : cv::Size();
}

// SOF0..SOF15 of ITU-T T.81 table B.1, without DHT, JPG and DAC that lie among them.
bool is_frame_header(unsigned marker) {
    return marker >= 0xC0 && marker <= 0xCF && marker != 0xC4 && marker != 0xC8 && marker != 0xCC;
}

// ITU-T T.81 annex B: walks the marker segments up to the frame header.
PictureHead jpeg_head(std::string_view bytes) {
    PictureHead head{FileFormat::jpeg, {}, false, false};
    const FileNumbers numbers(bytes, true);
    constexpr unsigned start_of_image = 0xD8;
    constexpr unsigned end_of_image = 0xD9;
    constexpr unsigned start_of_scan = 0xDA;
    std::size_t place = 2;
    while ((place = bytes.find('\xFF', place)) != std::string_view::npos && place + 1 < bytes.size()) {
        const auto marker = static_cast<unsigned char>(bytes[++place]);
        if (marker == 0xFF) {
            continue;  // fill bytes
        }
        ++place;
        if (is_frame_header(marker)) {
            head.size = size_of(numbers.at(place + 5, 2), numbers.at(place + 3, 2));
            head.grey = numbers.at(place + 7, 1) == 1U;
            head.lossless = (marker & 3U) == 3U;  // SOF3, 7, 11, 15
            return head;
        }
        const bool alone = marker <= 0x01 || (marker >= 0xD0 && marker <= start_of_image);
        if (alone) {
            continue;
        }
        const auto length = numbers.at(place, 2);
        if (!length || marker == end_of_image || marker == start_of_scan) {
            break;
        }
        place += *length;
    }
    return head;
}

// ISO/IEC 15948, 11.2.2: IHDR is the first chunk; colour types 0 and 4 are grey.
PictureHead png_head(std::string_view bytes) {
    PictureHead head{FileFormat::png, {}, false, false};
    const FileNumbers numbers(bytes, true);
    constexpr std::uint32_t ihdr = 0x49484452;
    constexpr std::uint32_t colour = 2;
    if (numbers.at(12, 4) == ihdr) {
        head.size = size_of(numbers.at(16, 4), numbers.at(20, 4));
        const std::uint32_t colour_type = numbers.at(25, 1).value_or(colour);
        head.grey = colour_type == 0 || colour_type == 4;
    }
    return head;
}

PictureHead tiff_head(std::string_view bytes) {
    const TiffDirectory directory = read_tiff_directory(bytes);
    return {FileFormat::tiff, size_of(directory.width, directory.height), directory.grey, false};
}

}  // namespace

PictureHead read_picture_head(std::string_view file_bytes) {
    if (starts_with(file_bytes, jpeg_start)) {
        return jpeg_head(file_bytes);
    }
    if (starts_with(file_bytes, png_start)) {
        return png_head(file_bytes);
    }
    if (is_heif(file_bytes)) {
        const HeifPicture picture = read_heif_container(file_bytes);
        return {FileFormat::heif, picture.stored.size(), picture.grey, false};
    }
    if (is_raw(file_bytes)) {
        return {FileFormat::raw, {}, false, false};
    }
    if (is_tiff(file_bytes)) {
        return tiff_head(file_bytes);
    }
    return {};
}

}  // namespace stripbook::photo
