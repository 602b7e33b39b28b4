#include "photo/tiff_previews.h"

#include <algorithm>
#include <cstdint>
#include <optional>

#include "photo/file_numbers.h"

namespace stripbook::photo {

namespace {

// A file that points round in circles ends here; real ones have about six (common practice, no source).
constexpr std::size_t most_directories = 40;

enum Tag : std::uint32_t {
    jpg_from_raw = 0x2E,  // RW2
    strip_offsets = 273,
    strip_byte_counts = 279,
    sub_directories = 330,
    jpeg_offset = 513,
    jpeg_length = 514,
};

struct Entry {
    std::uint32_t tag = 0;
    std::uint32_t count = 0;
    std::uint32_t value = 0;  // or where the values lie
};

class Walk {
  public:
    explicit Walk(std::string_view bytes) : bytes_(bytes), numbers_(bytes, bytes.substr(0, 1) == "M") {}

    std::vector<std::string_view> jpegs() {
        waiting_.push_back(numbers_.at(4, 4).value_or(0));
        for (std::size_t i = 0; i < waiting_.size() && i < most_directories; ++i) {
            look_at(waiting_[i]);
        }
        return found_;
    }

  private:
    void look_at(std::size_t start) {
        const auto entries = entries_at(start);
        add_piece(entries, jpeg_offset, jpeg_length);
        add_piece(entries, strip_offsets, strip_byte_counts);
        if (const auto* entry = find(entries, jpg_from_raw)) {
            add(entry->value, entry->count);
        }
        if (const auto* entry = find(entries, sub_directories)) {
            for (std::uint32_t i = 0; i < std::min<std::uint32_t>(entry->count, most_directories); ++i) {
                queue(entry->count == 1 ? entry->value
                                        : numbers_.at(entry->value + std::size_t{4} * i, 4).value_or(0));
            }
        }
        queue(numbers_.at(start + 2 + 12 * entries.size(), 4).value_or(0));
    }

    std::vector<Entry> entries_at(std::size_t start) const {
        std::vector<Entry> entries;
        const std::uint32_t count = start == 0 ? 0 : numbers_.at(start, 2).value_or(0);
        for (std::uint32_t i = 0; i < count; ++i) {
            const std::size_t place = start + 2 + std::size_t{12} * i;
            constexpr std::uint32_t type_short = 3;
            const auto tag = numbers_.at(place, 2);
            const auto values = numbers_.at(place + 4, 4);
            const auto value = numbers_.at(place + 8, numbers_.at(place + 2, 2) == type_short ? 2 : 4);
            if (!tag || !values || !value) {
                break;
            }
            entries.push_back({*tag, *values, *value});
        }
        return entries;
    }

    static const Entry* find(const std::vector<Entry>& entries, std::uint32_t tag) {
        const auto found =
            std::find_if(entries.begin(), entries.end(), [&](const Entry& e) { return e.tag == tag; });
        return found == entries.end() ? nullptr : &*found;
    }

    // A preview lies in one piece.
    void add_piece(const std::vector<Entry>& entries, std::uint32_t offset_tag, std::uint32_t length_tag) {
        const Entry* offset = find(entries, offset_tag);
        const Entry* length = find(entries, length_tag);
        if (offset != nullptr && length != nullptr && offset->count == 1 && length->count == 1) {
            add(offset->value, length->value);
        }
    }

    void add(std::size_t offset, std::size_t length) {
        if (offset > 0 && offset < bytes_.size()) {
            found_.push_back(bytes_.substr(offset, length));
        }
    }

    void queue(std::uint32_t start) {
        if (start != 0 && std::find(waiting_.begin(), waiting_.end(), start) == waiting_.end()) {
            waiting_.push_back(start);
        }
    }

    std::string_view bytes_;
    FileNumbers numbers_;
    std::vector<std::uint32_t> waiting_;  // directories, in the order they were met
    std::vector<std::string_view> found_;
};

}  // namespace

std::vector<std::string_view> jpegs_in_tiff(std::string_view file_bytes) {
    return Walk(file_bytes).jpegs();
}

}  // namespace stripbook::photo
