#include "photo/iso_boxes.h"

#include <algorithm>

#include "photo/file_numbers.h"

namespace stripbook::photo {

namespace {

struct Extent {
    std::uint64_t head = 0;   // bytes of size and type
    std::uint64_t whole = 0;  // of the box with its head
};

// A size of 1 is followed by the real one in 64 bits; 0 means "to the end of the file".
std::optional<Extent> extent_at(const FileNumbers& numbers, std::size_t place, std::size_t left) {
    const auto size = numbers.at(place, 4);
    if (!size || left < 8) {
        return std::nullopt;
    }
    if (*size == 0) {
        return Extent{8, left};
    }
    if (*size != 1) {
        return *size >= 8 ? std::optional(Extent{8, *size}) : std::nullopt;
    }
    const auto high = numbers.at(place + 8, 4);
    const auto low = numbers.at(place + 12, 4);
    if (!high || !low) {
        return std::nullopt;
    }
    const std::uint64_t large = std::uint64_t{*high} << 32U | *low;
    return large >= 16 ? std::optional(Extent{16, large}) : std::nullopt;
}

}  // namespace

void each_box(std::string_view bytes, const std::function<bool(const IsoBox&)>& take) {
    const FileNumbers numbers(bytes, true);
    std::size_t place = 0;
    while (place < bytes.size()) {
        const std::size_t left = bytes.size() - place;
        const auto extent = extent_at(numbers, place, left);
        if (!extent) {
            return;
        }
        const std::uint64_t there = std::min<std::uint64_t>(extent->whole, left);
        const IsoBox box{bytes.substr(place + 4, 4),
                         bytes.substr(place + extent->head, there - std::min(there, extent->head)),
                         extent->whole <= left};
        if (!take(box)) {
            return;
        }
        place += there;
    }
}

std::optional<IsoBox> find_box(std::string_view bytes, std::string_view type) {
    std::optional<IsoBox> found;
    each_box(bytes, [&](const IsoBox& box) {
        if (box.type == type) {
            found = box;
        }
        return !found;
    });
    return found;
}

std::optional<FullBox> full_box(const IsoBox& box) {
    const FileNumbers numbers(box.content, true);
    const auto version = numbers.at(0, 1);
    const auto flags = numbers.at(1, 3);
    if (!version || !flags) {
        return std::nullopt;
    }
    return FullBox{*version, *flags, box.content.substr(4)};
}

}  // namespace stripbook::photo
