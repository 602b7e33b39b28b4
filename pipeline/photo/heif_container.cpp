#include "photo/heif_container.h"

#include <algorithm>
#include <array>
#include <climits>
#include <cmath>
#include <cstdint>
#include <optional>
#include <vector>

#include "photo/file_numbers.h"
#include "photo/iso_boxes.h"

namespace stripbook::photo {

namespace {

// Still pictures and sequences of them in HEVC or AV1: ISO/IEC 23008-12 annex B, AV1 Image File Format.
constexpr std::array<std::string_view, 9> brands{"heic", "heix", "heim", "heis", "hevc",
                                                 "hevx", "mif1", "msf1", "avif"};

bool is_brand(std::string_view word) {
    return std::find(brands.begin(), brands.end(), word) != brands.end();
}

// The `pitm` box: which item is the picture to show.
std::optional<std::uint32_t> primary_item(std::string_view meta) {
    const auto box = find_box(meta, "pitm");
    const auto full = box ? full_box(*box) : std::nullopt;
    return full ? FileNumbers(full->content, true).at(0, full->version == 0 ? 2 : 4) : std::nullopt;
}

// The `ipma` box: the numbers of an item's properties, in the order in which they apply.
std::vector<std::uint32_t> properties_of(std::uint32_t item, const FullBox& associations) {
    const FileNumbers numbers(associations.content, true);
    const std::size_t item_bytes = associations.version < 1 ? 2 : 4;
    const std::size_t index_bytes = (associations.flags & 1U) != 0 ? 2 : 1;
    const std::uint32_t index_mask = index_bytes == 2 ? 0x7FFF : 0x7F;  // the top bit says "essential"
    std::size_t place = 4;
    const std::uint32_t items = numbers.at(0, 4).value_or(0);
    for (std::uint32_t i = 0; i < items; ++i) {
        const auto id = numbers.at(place, item_bytes);
        const auto count = numbers.at(place + item_bytes, 1);
        if (!id || !count) {
            break;
        }
        place += item_bytes + 1;
        std::vector<std::uint32_t> found;
        for (std::uint32_t j = 0; j < *count; ++j, place += index_bytes) {
            found.push_back(numbers.at(place, index_bytes).value_or(0) & index_mask);
        }
        if (*id == item) {
            return found;
        }
    }
    return {};
}

std::vector<IsoBox> properties_of_primary(std::string_view meta) {
    const auto item = primary_item(meta);
    const auto properties = find_box(meta, "iprp");
    const auto all = properties ? find_box(properties->content, "ipco") : std::nullopt;
    std::vector<IsoBox> boxes;
    if (!item || !all) {
        return boxes;
    }
    std::vector<IsoBox> by_number;
    each_box(all->content, [&](const IsoBox& box) {
        by_number.push_back(box);
        return true;
    });
    each_box(properties->content, [&](const IsoBox& box) {
        const auto full = box.type == "ipma" ? full_box(box) : std::nullopt;
        for (const std::uint32_t number : full ? properties_of(*item, *full) : std::vector<std::uint32_t>()) {
            if (number >= 1 && number <= by_number.size()) {
                boxes.push_back(by_number[number - 1]);
            }
        }
        return true;
    });
    return boxes;
}

cv::Size size_in(const IsoBox& ispe) {
    const FileNumbers numbers(ispe.content, true);
    const std::uint32_t width = numbers.at(4, 4).value_or(0);
    const std::uint32_t height = numbers.at(8, 4).value_or(0);
    const bool plausible = width > 0 && height > 0 && width <= INT_MAX && height <= INT_MAX;
    return plausible ? cv::Size(static_cast<int>(width), static_cast<int>(height)) : cv::Size();
}

// One side of the clean aperture (ISO/IEC 14496-12, 12.1.4): its middle lies `offset` from the middle of the
// coded side. `at` is where its eight numbers' part for this side begins: length and offset as fractions.
std::optional<std::pair<int, int>> clean_side(const IsoBox& clap, std::size_t length_at,
                                              std::size_t offset_at, int coded) {
    const FileNumbers numbers(clap.content, true);
    const auto fraction = [&](std::size_t place) -> std::optional<double> {
        const auto numerator = numbers.at(place, 4);
        const auto denominator = numbers.at(place + 4, 4);
        if (!numerator || !denominator || *denominator == 0) {
            return std::nullopt;
        }
        return static_cast<double>(static_cast<std::int32_t>(*numerator)) / *denominator;
    };
    const auto length = fraction(length_at);
    const auto offset = fraction(offset_at);
    if (!length || !offset) {
        return std::nullopt;
    }
    const double first = *offset + (coded - 1) / 2.0 - (*length - 1) / 2;
    const double from = std::round(first);
    const double to = std::round(first + *length - 1);
    if (!(from >= 0 && to < coded && from <= to)) {
        return std::nullopt;  // outside of the picture: no aperture we know what to do with
    }
    return std::pair(static_cast<int>(from), static_cast<int>(to - from) + 1);
}

cv::Rect clean_aperture(const IsoBox& clap, const cv::Rect& coded) {
    const auto across = clean_side(clap, 0, 16, coded.width);
    const auto down = clean_side(clap, 8, 24, coded.height);
    return across && down ? cv::Rect(across->first, down->first, across->second, down->second) : coded;
}

using Turn = cv::Matx<int, 2, 2>;  // shown from stored, directions only: x right, y down

Turn turn_in(const IsoBox& box) {
    const unsigned value = FileNumbers(box.content, true).at(0, 1).value_or(0);
    const Turn quarter_left(0, 1, -1, 0);
    if (box.type == "imir") {
        // 0: top and bottom change places, 1: left and right do (6.5.12 of the edition of 2022).
        return (value & 1U) != 0 ? Turn(-1, 0, 0, 1) : Turn(1, 0, 0, -1);
    }
    Turn turn = Turn::eye();
    for (unsigned i = 0; i < (value & 3U); ++i) {
        turn = quarter_left * turn;
    }
    return turn;
}

// CIPA DC-008, Orientation: where the stored row 0 and column 0 are shown.
int exif_orientation_of(const Turn& turn) {
    const std::array<Turn, 8> by_orientation{Turn(1, 0, 0, 1),   Turn(-1, 0, 0, 1), Turn(-1, 0, 0, -1),
                                             Turn(1, 0, 0, -1),  Turn(0, 1, 1, 0),  Turn(0, -1, 1, 0),
                                             Turn(0, -1, -1, 0), Turn(0, 1, -1, 0)};
    const auto found = std::find(by_orientation.begin(), by_orientation.end(), turn);
    return static_cast<int>(found - by_orientation.begin()) + 1;
}

bool one_channel(const IsoBox& pixi) {
    return FileNumbers(pixi.content, true).at(4, 1) == 1U;
}

}  // namespace

bool is_heif(std::string_view file_bytes) {
    std::string_view words;
    each_box(file_bytes, [&](const IsoBox& box) {
        words = box.type == "ftyp" ? box.content : std::string_view();
        return false;
    });
    if (words.substr(0, 4) == "crx ") {
        return false;
    }
    for (std::size_t place = 0; place + 4 <= words.size(); place += place == 0 ? 8 : 4) {
        if (is_brand(words.substr(place, 4))) {
            return true;
        }
    }
    return false;
}

HeifPicture read_heif_container(std::string_view file_bytes) {
    HeifPicture picture;
    const auto meta_box = find_box(file_bytes, "meta");
    const auto meta = meta_box ? full_box(*meta_box) : std::nullopt;
    if (!meta) {
        return picture;
    }
    bool turned = false;
    Turn turn = Turn::eye();
    for (const IsoBox& box : properties_of_primary(meta->content)) {
        if (box.type == "ispe" && picture.coded.empty()) {
            picture.coded = size_in(box);
            picture.stored = {{0, 0}, picture.coded};
        } else if (box.type == "clap" && !turned) {
            picture.stored = clean_aperture(box, {{0, 0}, picture.coded});
        } else if (box.type == "irot" || box.type == "imir") {
            turn = turn_in(box) * turn;
            turned = true;
        } else if (box.type == "pixi") {
            picture.grey = one_channel(box);
        }
    }
    if (turned) {
        picture.orientation = exif_orientation_of(turn);
    }
    return picture;
}

}  // namespace stripbook::photo
