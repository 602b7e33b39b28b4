#include "photo/tiff_directory.h"

#include <bitset>

#include "photo/file_numbers.h"

namespace stripbook::photo {

namespace {

using namespace std::string_view_literals;

constexpr std::size_t entry_bytes = 12;
constexpr std::uint32_t type_short = 3;
// PhotometricInterpretation of the DNG specification.
constexpr std::uint32_t sensor_samples = 32803;
constexpr std::uint32_t linear_raw = 34892;

bool is_big_endian(std::string_view file_bytes) {
    return file_bytes.substr(0, 1) == "M";
}

// TIFF 6.0, section 8, and NewSubfileType, ExtraSamples of the same.
void take_entry(TiffDirectory& directory, std::uint32_t tag, std::uint32_t value, std::size_t place) {
    switch (tag) {
        case 254:
            directory.raw = directory.raw || (value & 1U) != 0;  // NewSubfileType: reduced resolution
            break;
        case 256:
            directory.width = value;
            break;
        case 257:
            directory.height = value;
            break;
        case 262:
            directory.grey = value <= 1;  // PhotometricInterpretation: WhiteIsZero, BlackIsZero
            directory.raw = directory.raw || value == sensor_samples || value == linear_raw;
            break;
        case 274:
            directory.orientation_place = place;
            break;
        case 50706:
            directory.raw = true;  // DNGVersion
            break;
        case 338:
            directory.alpha_multiplied = value == 1;  // ExtraSamples: associated alpha
            break;
        default:
            break;
    }
}

}  // namespace

bool is_tiff(std::string_view file_bytes) {
    return file_bytes.substr(0, 4) == "II*\0"sv || file_bytes.substr(0, 4) == "MM\0*"sv;
}

TiffDirectory read_tiff_directory(std::string_view file_bytes) {
    TiffDirectory directory;
    const FileNumbers numbers(file_bytes, is_big_endian(file_bytes));
    const auto start = numbers.at(4, 4);
    const auto count = start ? numbers.at(*start, 2) : std::nullopt;
    std::bitset<65536> seen;
    for (std::uint32_t i = 0; count && i < *count; ++i) {
        const std::size_t place = *start + 2 + entry_bytes * i;
        const auto tag = numbers.at(place, 2);
        const auto value = numbers.at(place + 8, numbers.at(place + 2, 2) == type_short ? 2 : 4);
        if (!tag || !value) {
            break;
        }
        if (!seen[*tag]) {
            seen.set(*tag);
            take_entry(directory, *tag, *value, place);
        }
    }
    return directory;
}

std::string without_orientation(std::string_view file_bytes, const TiffDirectory& directory) {
    std::string changed(file_bytes);
    if (directory.orientation_place != 0) {
        // Type SHORT, count 1, value 1, the rest of the value's four bytes unused.
        const std::string_view entry =
            is_big_endian(file_bytes) ? "\0\3\0\0\0\1\0\1\0\0"sv : "\3\0\1\0\0\0\1\0\0\0"sv;
        changed.replace(directory.orientation_place + 2, entry.size(), entry);
    }
    return changed;
}

}  // namespace stripbook::photo
