#include "photo/raw_preview.h"

#include <algorithm>
#include <cstdint>
#include <exiv2/exiv2.hpp>
#include <vector>

#include "photo/file_numbers.h"
#include "photo/iso_boxes.h"
#include "photo/picture_head.h"
#include "photo/tiff_directory.h"
#include "photo/tiff_previews.h"

namespace stripbook::photo {

namespace {

using namespace std::string_view_literals;

// TIFF-like files with a number of their own: Panasonic (RW2), Olympus (ORF).
constexpr std::string_view tiff_like_starts[] = {"IIU\0"sv, "IIRO"sv, "IIRS"sv, "MMOR"sv};
constexpr std::string_view fuji_start = "FUJIFILMCCD-RAW"sv;

bool is_tiff_like(std::string_view bytes) {
    return std::any_of(std::begin(tiff_like_starts), std::end(tiff_like_starts),
                       [&](std::string_view start) { return bytes.substr(0, start.size()) == start; });
}

bool is_cr3(std::string_view bytes) {
    return bytes.size() >= 12 && bytes.substr(4, 8) == "ftypcrx "sv;
}

// RAF: place and length of the JPEG at 84 and 88, big-endian.
std::string_view fuji_jpeg(std::string_view bytes) {
    const FileNumbers numbers(bytes, true);
    const std::size_t place = numbers.at(84, 4).value_or(0);
    return place < bytes.size() ? bytes.substr(place, numbers.at(88, 4).value_or(0)) : std::string_view();
}

// The first sample of a track: its size from `stsz`, its place from `co64` or `stco` (ISO/IEC 14496-12, 8.7).
std::string_view first_sample(std::string_view bytes, std::string_view track) {
    std::string_view inside = track;
    for (const std::string_view type : {"mdia"sv, "minf"sv, "stbl"sv}) {
        const auto box = find_box(inside, type);
        inside = box ? box->content : std::string_view();
    }
    const auto sizes = find_box(inside, "stsz");
    const auto places = find_box(inside, "co64");
    const auto short_places = find_box(inside, "stco");
    if (!sizes || (!places && !short_places)) {
        return {};
    }
    const FileNumbers size_numbers(sizes->content, true);
    const std::uint32_t same_size = size_numbers.at(4, 4).value_or(0);
    const std::uint32_t size = same_size != 0 ? same_size : size_numbers.at(12, 4).value_or(0);
    const FileNumbers place_numbers((places ? places : short_places)->content, true);
    const std::uint64_t first = place_numbers.at(8, 4).value_or(0);
    const std::uint64_t place = places ? first << 32U | place_numbers.at(12, 4).value_or(0) : first;
    return place < bytes.size() ? bytes.substr(place, size) : std::string_view();
}

// CR3: the full-size JPEG is a track of its own.
std::vector<std::string_view> jpegs_in_cr3(std::string_view bytes) {
    std::vector<std::string_view> found;
    const auto movie = find_box(bytes, "moov");
    each_box(movie ? movie->content : std::string_view(), [&](const IsoBox& box) {
        if (box.type == "trak") {
            found.push_back(first_sample(bytes, box.content));
        }
        return true;
    });
    return found;
}

// Previews that only the makers' notes point to (Olympus, Minolta, ...).
std::vector<std::string> jpegs_by_exiv2(std::string_view bytes) {
    std::vector<std::string> found;
    Exiv2::LogMsg::setLevel(Exiv2::LogMsg::mute);
    try {
        const auto image = Exiv2::ImageFactory::open(reinterpret_cast<const Exiv2::byte*>(bytes.data()),
                                                     static_cast<long>(bytes.size()));
        image->readMetadata();
        const Exiv2::PreviewManager previews(*image);
        for (const auto& about : previews.getPreviewProperties()) {
            if (about.mimeType_ == "image/jpeg") {
                const auto preview = previews.getPreviewImage(about);
                found.emplace_back(reinterpret_cast<const char*>(preview.pData()), preview.size());
            }
        }
    } catch (const std::exception&) {
        // damaged: what was found before it counts
    }
    return found;
}

// Of a JPEG that shows something; 0 otherwise: the raw samples themselves are often a lossless JPEG.
double area_px(std::string_view bytes) {
    const PictureHead head = read_picture_head(bytes);
    return head.format == FileFormat::jpeg && !head.lossless ? head.size.area() : 0;
}

template <typename Pieces>
std::string_view largest(const Pieces& pieces) {
    std::string_view best;
    for (const auto& piece : pieces) {
        if (area_px(piece) > area_px(best)) {
            best = piece;
        }
    }
    return best;
}

bool large_enough(std::string_view jpeg) {
    const cv::Size size = read_picture_head(jpeg).size;
    return std::max(size.width, size.height) >= least_preview_long_side_px;
}

std::string_view preview_by_structure(std::string_view bytes) {
    if (is_cr3(bytes)) {
        return largest(jpegs_in_cr3(bytes));
    }
    if (bytes.substr(0, fuji_start.size()) == fuji_start) {
        return largest(std::vector{fuji_jpeg(bytes)});
    }
    return largest(jpegs_in_tiff(bytes));
}

}  // namespace

bool is_raw(std::string_view file_bytes) {
    if (is_tiff(file_bytes)) {
        const bool is_cr2 = file_bytes.size() > 10 && file_bytes.substr(8, 2) == "CR";
        return is_cr2 || read_tiff_directory(file_bytes).raw;
    }
    return is_tiff_like(file_bytes) || is_cr3(file_bytes) ||
           file_bytes.substr(0, fuji_start.size()) == fuji_start;
}

std::string raw_preview(std::string_view file_bytes) {
    const std::string_view here = preview_by_structure(file_bytes);
    if (large_enough(here)) {
        return std::string(here);
    }
    const auto others = jpegs_by_exiv2(file_bytes);
    const std::string_view other = largest(others);
    return std::string(area_px(other) > area_px(here) ? other : here);
}

}  // namespace stripbook::photo
