#include "dump/room_check.h"

#include <fmt/format.h>

#include <array>
#include <filesystem>
#include <map>

#include "book/originals.h"
#include "book/paths.h"
#include "errors.h"

namespace stripbook::dump {

namespace {

// How many files of each length are there already.
using Lengths = std::map<std::uint64_t, std::size_t>;

std::uint64_t in_whole_blocks(std::uint64_t bytes) {
    constexpr std::uint64_t block_bytes = 4096;  // common practice, no source
    return (bytes + block_bytes - 1) / block_bytes * block_bytes;
}

std::uint64_t bytes_needed(const std::vector<CardEntry>& files, Lengths there) {
    std::uint64_t needed = 0;
    for (const auto& file : files) {
        const auto same = there.find(file.bytes);
        if (same != there.end() && same->second > 0) {
            --same->second;
        } else {
            needed += in_whole_blocks(file.bytes);
        }
    }
    return needed;
}

void must_fit(const std::filesystem::path& folder, std::uint64_t needed, FileDoor& door) {
    const std::uint64_t free = door.free_bytes(folder);
    if (needed > free) {
        throw OutsideError(
            fmt::format("not enough room in \"{}\": the card's files need {}, {} are free; nothing was "
                        "copied; make room and run the same command again",
                        book::printable_name(folder.string()), size_text(needed), size_text(free)));
    }
}

}  // namespace

void check_room(const book::Book& book, const std::vector<CardEntry>& files, const SecondCopies* second,
                FileDoor& door) {
    Lengths in_book;
    Lengths in_second;
    const bool with_second = second != nullptr && second->failure().empty();
    for (const auto& original : book::all_originals(book)) {
        ++in_book[original.bytes];
        if (with_second && book::has_second_copy(book, original.id, second->recorded_name())) {
            ++in_second[original.bytes];
        }
    }
    const std::filesystem::path photos = book.folder() / book::photos_folder;
    const std::uint64_t needed = bytes_needed(files, in_book);
    const std::uint64_t needed_second = with_second ? bytes_needed(files, in_second) : 0;
    if (with_second && second->on_the_books_disk()) {
        must_fit(photos, needed + needed_second, door);
        return;
    }
    must_fit(photos, needed, door);
    if (with_second) {
        must_fit(second->root(), needed_second, door);
    }
}

std::string size_text(std::uint64_t bytes) {
    constexpr std::array<const char*, 4> units{"kB", "MB", "GB", "TB"};
    if (bytes < 1000) {
        return fmt::format("{} bytes", bytes);
    }
    double value = static_cast<double>(bytes) / 1000;
    std::size_t unit = 0;
    // 999.95 would be written as 1000.0.
    while (value >= 999.95 && unit + 1 < units.size()) {
        value /= 1000;
        ++unit;
    }
    return fmt::format("{:.1f} {}", value, units[unit]);
}

}  // namespace stripbook::dump
