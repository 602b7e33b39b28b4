#include "photo/one_line.h"

namespace stripbook::photo {

namespace {

constexpr std::string_view outer = std::string_view("\0 \t\r\n", 5);
constexpr std::string_view replacement = "\xEF\xBF\xBD";

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(outer);
    if (first == std::string_view::npos) {
        return {};
    }
    return text.substr(first, text.find_last_not_of(outer) - first + 1);
}

unsigned byte_at(std::string_view text, std::size_t i) {
    return static_cast<unsigned char>(text[i]);
}

// Bytes of the UTF-8 character at the head of `text`; 0 when there is none (RFC 3629: no overlong forms, no
// surrogates, nothing above U+10FFFF).
std::size_t character_length(std::string_view text) {
    const unsigned lead = byte_at(text, 0);
    if (lead < 0x80) {
        return 1;
    }
    const std::size_t length = lead >= 0xF0 ? 4 : lead >= 0xE0 ? 3 : 2;
    if (lead < 0xC2 || lead > 0xF4 || text.size() < length) {
        return 0;
    }
    for (std::size_t i = 1; i < length; ++i) {
        if ((byte_at(text, i) & 0xC0U) != 0x80) {
            return 0;
        }
    }
    const unsigned second = byte_at(text, 1);
    const bool overlong = (lead == 0xE0 && second < 0xA0) || (lead == 0xF0 && second < 0x90);
    const bool surrogate = lead == 0xED && second > 0x9F;
    const bool too_high = lead == 0xF4 && second > 0x8F;
    return overlong || surrogate || too_high ? 0 : length;
}

// C0, DEL and C1 (U+0080..U+009F, which terminals obey as well).
bool is_control(std::string_view character) {
    const unsigned lead = byte_at(character, 0);
    return lead < 0x20 || lead == 0x7F || (lead == 0xC2 && byte_at(character, 1) < 0xA0);
}

}  // namespace

std::string one_line(std::string_view text, std::size_t most_bytes) {
    std::string_view rest = trimmed(text);
    rest = trimmed(rest.substr(0, rest.find('\0')).substr(0, most_bytes));
    std::string line;
    while (!rest.empty()) {
        const std::size_t length = character_length(rest);
        if (length == 0) {
            line += replacement;
            rest.remove_prefix(1);
            continue;
        }
        const std::string_view character = rest.substr(0, length);
        line += is_control(character) ? std::string_view(" ") : character;
        rest.remove_prefix(length);
    }
    return std::string(trimmed(line));
}

}  // namespace stripbook::photo
