#include "book/utf8.h"

#include <fmt/format.h>

#include "book/paths.h"
#include "errors.h"

namespace stripbook::book {

namespace {

// Bytes that must follow a leading byte, and the range of the first of them (Unicode 15, table 3-7).
struct Following {
    std::size_t count = 0;
    unsigned char low = 0x80;
    unsigned char high = 0xBF;
};

std::optional<Following> following(unsigned char lead) {
    if (lead < 0x80) {
        return Following{};
    }
    if (lead >= 0xC2 && lead <= 0xDF) {
        return Following{1};
    }
    if (lead == 0xE0) {
        return Following{2, 0xA0, 0xBF};
    }
    if (lead == 0xED) {
        return Following{2, 0x80, 0x9F};
    }
    if (lead >= 0xE1 && lead <= 0xEF) {
        return Following{2};
    }
    if (lead == 0xF0) {
        return Following{3, 0x90, 0xBF};
    }
    if (lead >= 0xF1 && lead <= 0xF3) {
        return Following{3};
    }
    if (lead == 0xF4) {
        return Following{3, 0x80, 0x8F};
    }
    return std::nullopt;
}

char32_t lead_bits(unsigned char lead, std::size_t followers) {
    switch (followers) {
        case 0:
            return lead;
        case 1:
            return lead & 0x1FU;
        case 2:
            return lead & 0x0FU;
        default:
            return lead & 0x07U;
    }
}

}  // namespace

std::optional<Utf8Character> character_at(std::string_view text, std::size_t at) {
    const auto byte = [&text](std::size_t i) { return static_cast<unsigned char>(text[i]); };
    const auto rest = following(byte(at));
    if (!rest || at + rest->count >= text.size()) {
        return std::nullopt;
    }
    char32_t code_point = lead_bits(byte(at), rest->count);
    for (std::size_t i = 1; i <= rest->count; ++i) {
        const unsigned char low = i == 1 ? rest->low : 0x80;
        const unsigned char high = i == 1 ? rest->high : 0xBF;
        if (byte(at + i) < low || byte(at + i) > high) {
            return std::nullopt;
        }
        code_point = code_point << 6U | (byte(at + i) & 0x3FU);
    }
    return Utf8Character{code_point, rest->count + 1};
}

std::optional<std::size_t> first_wrong_byte(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const auto character = character_at(text, at);
        if (!character) {
            return at;
        }
        at += character->bytes;
    }
    return std::nullopt;
}

bool is_control(char32_t code_point) {
    return code_point < 0x20 || (code_point >= 0x7F && code_point <= 0x9F);
}

bool disturbs_a_line(char32_t code_point) {
    return code_point == 0x2028 || code_point == 0x2029 || (code_point >= 0x202A && code_point <= 0x202E) ||
           (code_point >= 0x2066 && code_point <= 0x2069);
}

std::optional<std::size_t> first_control(std::string_view text) {
    for (std::size_t at = 0; at < text.size();) {
        const auto character = character_at(text, at);
        if (!character) {
            return at;
        }
        if (is_control(character->code_point) && text[at] != '\n' && text[at] != '\t') {
            return at;
        }
        at += character->bytes;
    }
    return std::nullopt;
}

void check_typed_text(const std::string& text, const std::string& what) {
    if (first_wrong_byte(text)) {
        throw WrongUse(
            fmt::format("the {} \"{}\" is not UTF-8 text: type it again, or set the terminal to UTF-8", what,
                        printable_name(text)));
    }
    if (first_control(text)) {
        throw WrongUse(fmt::format("the {} \"{}\" holds a control character: type it again without", what,
                                   printable_name(text)));
    }
}

}  // namespace stripbook::book
