// Unsigned numbers inside a file, big- or little-endian.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

namespace stripbook::photo {

class FileNumbers {
  public:
    FileNumbers(std::string_view bytes, bool big_endian) : bytes_(bytes), big_endian_(big_endian) {}

    /// The number of `length` (1..4) bytes at `place`; nothing beyond the end of the file.
    [[nodiscard]] std::optional<std::uint32_t> at(std::size_t place, std::size_t length) const {
        if (place > bytes_.size() || bytes_.size() - place < length) {
            return std::nullopt;
        }
        std::uint32_t number = 0;
        for (std::size_t i = 0; i < length; ++i) {
            const std::size_t from = big_endian_ ? place + i : place + length - 1 - i;
            number = number << 8U | static_cast<unsigned char>(bytes_[from]);
        }
        return number;
    }

  private:
    std::string_view bytes_;
    bool big_endian_;
};

}  // namespace stripbook::photo
