#include "photo/print_copy.h"

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <opencv2/imgproc.hpp>

#include "errors.h"
#include "photo/colour_profile.h"
#include "photo/jpeg_writer.h"
#include "photo/picture.h"
#include "photo/picture_head.h"
#include "photo/raw_preview.h"

namespace stripbook::photo {

namespace {

constexpr int quality = 88;

bool small_enough(cv::Size size, int long_side_px) {
    return 4.0 * std::max(size.width, size.height) <= 5.0 * long_side_px;
}

// Area mean to a long side of exactly `long_side_px`; smaller pictures stay as they are.
cv::Mat reduced(const Picture& picture, int long_side_px) {
    const cv::Size stored = picture.stored;
    const int long_side = std::max(stored.width, stored.height);
    if (long_side <= long_side_px) {
        return picture.pixels;
    }
    const auto side = [&](int stored_px) {
        const auto px = (std::int64_t{stored_px} * long_side_px + long_side / 2) / long_side;
        return std::max(1, static_cast<int>(px));
    };
    cv::Mat small;
    cv::resize(picture.pixels, small, {side(stored.width), side(stored.height)}, 0, 0, cv::INTER_AREA);
    return small;
}

PrintCopy compressed_copy(std::string_view file_bytes, const PictureHead& head, int long_side_px) {
    PrintCopy copy;
    copy.recompressed = true;
    Picture picture = decode_colour(file_bytes, long_side_px);
    copy.fault = picture.fault;
    if (picture.pixels.empty()) {
        return copy;
    }
    cv::Mat pixels = reduced(picture, long_side_px);
    if (head.grey) {
        cv::extractChannel(pixels, pixels, 0);
    }
    copy.width_px = pixels.cols;
    copy.height_px = pixels.rows;
    copy.jpeg = write_jpeg(pixels, quality, colour_profile_of(file_bytes, head.grey));
    return copy;
}

PrintCopy copy_of_preview(std::string_view raw_file_bytes, int long_side_px) {
    const std::string preview = raw_preview(raw_file_bytes);
    return preview.empty() ? compressed_copy(raw_file_bytes, {}, long_side_px)
                           : make_print_copy(preview, long_side_px);
}

void append_number(std::string& bytes, std::uint64_t number) {
    char raw[sizeof number];
    std::memcpy(raw, &number, sizeof number);
    bytes.append(raw, sizeof raw);
}

[[noreturn]] void refuse_bytes() {
    throw BadFile("a print copy did not arrive whole from the worker process; run the command again");
}

// Takes pieces off the front of what came from a worker, which strangers' bytes may have led astray.
class Pieces {
  public:
    explicit Pieces(std::string_view bytes) : rest_(bytes) {}

    std::string_view take(std::uint64_t length) {
        if (length > rest_.size()) {
            refuse_bytes();
        }
        const std::string_view piece = rest_.substr(0, length);
        rest_.remove_prefix(length);
        return piece;
    }
    std::uint64_t number(std::uint64_t most) {
        std::uint64_t value = 0;
        std::memcpy(&value, take(sizeof value).data(), sizeof value);
        if (value > most) {
            refuse_bytes();
        }
        return value;
    }
    [[nodiscard]] std::string_view rest() const { return rest_; }

  private:
    std::string_view rest_;
};

}  // namespace

PrintCopy make_print_copy(std::string_view file_bytes, int long_side_px) {
    const PictureHead head = read_picture_head(file_bytes);
    if (head.format == FileFormat::raw) {
        return copy_of_preview(file_bytes, long_side_px);
    }
    if (head.format == FileFormat::jpeg && !head.size.empty() && small_enough(head.size, long_side_px)) {
        if (auto copied = copy_jpeg(file_bytes, head.size, colour_profile_of(file_bytes, head.grey))) {
            return {std::move(copied->bytes), head.size.width, head.size.height, false,
                    copied->damaged ? "cut short or damaged: only a part of the picture can be read" : ""};
        }
    }
    return compressed_copy(file_bytes, head, long_side_px);
}

std::string to_bytes(const PrintCopy& copy) {
    std::string bytes;
    append_number(bytes, static_cast<std::uint64_t>(copy.width_px));
    append_number(bytes, static_cast<std::uint64_t>(copy.height_px));
    append_number(bytes, copy.recompressed ? 1 : 0);
    append_number(bytes, copy.fault.size());
    bytes += copy.fault;
    bytes += copy.jpeg;
    return bytes;
}

PrintCopy print_copy_from_bytes(std::string_view bytes) {
    constexpr std::uint64_t most_px = 65535;  // of a JPEG's side
    Pieces pieces(bytes);
    PrintCopy copy;
    copy.width_px = static_cast<int>(pieces.number(most_px));
    copy.height_px = static_cast<int>(pieces.number(most_px));
    copy.recompressed = pieces.number(1) != 0;
    copy.fault = pieces.take(pieces.number(bytes.size()));
    copy.jpeg = pieces.rest();
    return copy;
}

}  // namespace stripbook::photo
