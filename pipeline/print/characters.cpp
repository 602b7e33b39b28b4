#include "print/characters.h"

#include <fmt/format.h>
#include <utf8proc.h>

#include <cstdlib>
#include <memory>

namespace stripbook::print {

namespace {

// Valid UTF-8: every byte that is none is written out as \xNN.
std::string valid_utf8(std::string_view text) {
    std::string out;
    std::size_t at = 0;
    while (at < text.size()) {
        utf8proc_int32_t c = 0;
        const auto* here = reinterpret_cast<const utf8proc_uint8_t*>(text.data() + at);
        const auto length = utf8proc_iterate(here, static_cast<utf8proc_ssize_t>(text.size() - at), &c);
        if (length <= 0) {
            out += fmt::format("\\x{:02X}", static_cast<unsigned char>(text[at]));
            ++at;
        } else {
            out += text.substr(at, static_cast<std::size_t>(length));
            at += static_cast<std::size_t>(length);
        }
    }
    return out;
}

std::string composed(const std::string& valid) {
    utf8proc_uint8_t* made = nullptr;
    const auto length = utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(valid.data()),
                                     static_cast<utf8proc_ssize_t>(valid.size()), &made,
                                     static_cast<utf8proc_option_t>(UTF8PROC_STABLE | UTF8PROC_COMPOSE));
    const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> keep(made, &std::free);
    return length < 0 ? valid
                      : std::string(reinterpret_cast<const char*>(made), static_cast<std::size_t>(length));
}

void append_visible(std::u32string& out, utf8proc_int32_t c) {
    const auto category = utf8proc_category(c);
    const bool blank = category == UTF8PROC_CATEGORY_ZS || category == UTF8PROC_CATEGORY_ZL ||
                       category == UTF8PROC_CATEGORY_ZP || (c >= 0x09 && c <= 0x0D);
    if (blank) {
        out += U' ';
    } else if (category == UTF8PROC_CATEGORY_CC || category == UTF8PROC_CATEGORY_CF) {
        for (const char digit : fmt::format("\\u{{{:04X}}}", c)) {
            out += static_cast<char32_t>(digit);
        }
    } else {
        out += static_cast<char32_t>(c);
    }
}

}  // namespace

std::u32string characters_of(std::string_view utf8) {
    const std::string text = composed(valid_utf8(utf8));
    std::u32string out;
    std::size_t at = 0;
    while (at < text.size()) {
        utf8proc_int32_t c = 0;
        const auto length = utf8proc_iterate(reinterpret_cast<const utf8proc_uint8_t*>(text.data() + at),
                                             static_cast<utf8proc_ssize_t>(text.size() - at), &c);
        if (length <= 0) {
            break;  // cannot happen: the text was made valid above
        }
        append_visible(out, c);
        at += static_cast<std::size_t>(length);
    }
    return out;
}

std::string utf8_of(std::u32string_view characters) {
    std::string out;
    for (const char32_t c : characters) {
        utf8proc_uint8_t bytes[4];
        const auto length = utf8proc_encode_char(static_cast<utf8proc_int32_t>(c), bytes);
        out.append(reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(length));
    }
    return out;
}

std::string first_characters(std::string_view utf8, std::size_t most) {
    const std::u32string all = characters_of(utf8);
    return all.size() <= most ? utf8_of(all) : utf8_of(all.substr(0, most - 1) + U'\u2026');
}

}  // namespace stripbook::print
