#include "photo/video_length.h"

#include <array>
#include <cstdint>
#include <fstream>
#include <optional>
#include <string_view>

#include "photo/file_numbers.h"

namespace stripbook::photo {

namespace {

constexpr std::size_t head_bytes = 16;
constexpr int most_boxes = 1000;  // cameras write fewer than ten side by side

// What stands at `place`, as much of it as there is.
std::string head_at(std::ifstream& file, std::uint64_t place) {
    std::array<char, head_bytes> head{};
    file.clear();
    file.seekg(static_cast<std::streamoff>(place));
    file.read(head.data(), head.size());
    return {head.data(), static_cast<std::size_t>(file.gcount())};
}

// Length of the box whose head this is; 0: to the end of the file. Nothing when it is no box.
std::optional<std::uint64_t> box_length(std::string_view head) {
    const FileNumbers numbers(head, true);
    const auto length = numbers.at(0, 4);
    if (!length || head.size() < 8) {
        return std::nullopt;
    }
    if (*length != 1) {
        return *length == 0 || *length >= 8 ? std::optional<std::uint64_t>(*length) : std::nullopt;
    }
    const auto high = numbers.at(8, 4);
    const auto low = numbers.at(12, 4);
    if (!high || !low) {
        return std::nullopt;
    }
    const std::uint64_t large = std::uint64_t{*high} << 32U | *low;
    return large >= head_bytes ? std::optional(large) : std::nullopt;
}

bool a_box_ends_too_early(std::ifstream& file, std::uint64_t file_bytes) {
    std::uint64_t place = 0;
    for (int i = 0; i < most_boxes && place < file_bytes; ++i) {
        const auto length = box_length(head_at(file, place));
        if (!length || *length == 0) {
            return false;
        }
        if (*length > file_bytes - place) {
            return true;
        }
        place += *length;
    }
    return false;
}

}  // namespace

bool ends_too_early(const std::string& path) {
    std::ifstream file(path, std::ios::binary | std::ios::ate);
    const std::streamoff end = file.tellg();
    if (end <= 0) {
        return false;
    }
    const auto file_bytes = static_cast<std::uint64_t>(end);
    const std::string head = head_at(file, 0);
    if (head.starts_with("RIFF")) {
        const auto length = FileNumbers(head, false).at(4, 4);
        return length && std::uint64_t{*length} + 8 > file_bytes;
    }
    return head.size() >= 8 && head.substr(4, 4) == "ftyp" && a_box_ends_too_early(file, file_bytes);
}

}  // namespace stripbook::photo
