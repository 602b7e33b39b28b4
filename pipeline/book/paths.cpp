#include "book/paths.h"

#include <fmt/format.h>

#include <string_view>

#include "book/utf8.h"

namespace stripbook::book {

namespace {

// Most file systems allow 255 bytes; the rest is room for what a dump adds to tell two names apart.
constexpr std::size_t longest_component_bytes = 200;
constexpr std::size_t longest_extension_bytes = 20;

std::string escaped(std::string_view bytes, const char* pattern) {
    std::string out;
    for (const char c : bytes) {
        out += fmt::format(fmt::runtime(pattern), static_cast<unsigned char>(c));
    }
    return out;
}

bool is_keepable(char32_t code_point) {
    // % is not keepable because it marks the escapes: so two names never become one.
    constexpr std::u32string_view refused = U"\\:*?\"<>|%";
    return !is_control(code_point) && !disturbs_a_line(code_point) &&
           refused.find(code_point) == std::u32string_view::npos;
}

// Leading dots hide a file; trailing dots and spaces are dropped by FAT and exFAT.
bool is_at_a_bad_end(std::string_view component, std::size_t at) {
    const bool leading_dot = component.find_first_not_of('.') >= at && component[at] == '.';
    const bool trailing =
        component.find_last_not_of(". ") == std::string_view::npos || component.find_last_not_of(". ") < at;
    return leading_dot || (trailing && (component[at] == '.' || component[at] == ' '));
}

// Where `text` may be cut so that at most `limit` bytes stay and neither a character nor a %XX is split.
std::size_t cut_at(std::string_view text, std::size_t limit) {
    std::size_t at = 0;
    while (at < text.size()) {
        const auto character = character_at(text, at);
        const std::size_t step = text[at] == '%' ? 3 : character ? character->bytes : 1;
        if (at + step > limit) {
            break;
        }
        at += step;
    }
    return at;
}

std::string shortened(const std::string& component) {
    if (component.size() <= longest_component_bytes) {
        return component;
    }
    const auto dot = component.rfind('.');
    const bool has_extension = dot != std::string::npos && component.size() - dot <= longest_extension_bytes;
    const std::string extension = has_extension ? component.substr(dot) : "";
    return component.substr(0, cut_at(component, longest_component_bytes - extension.size())) + extension;
}

std::string keepable_component(std::string_view component) {
    std::string out;
    for (std::size_t at = 0; at < component.size();) {
        const auto character = character_at(component, at);
        const std::size_t bytes = character ? character->bytes : 1;
        const auto piece = component.substr(at, bytes);
        const bool kept = character && is_keepable(character->code_point) && !is_at_a_bad_end(component, at);
        out += kept ? std::string(piece) : escaped(piece, "%{:02X}");
        at += bytes;
    }
    return shortened(out);
}

}  // namespace

std::string dump_folder(std::int64_t dump_number) {
    return fmt::format("{}/{:04}", photos_folder, dump_number);
}

std::string keepable_name(const std::string& name_on_card) {
    std::string out;
    std::string_view rest = name_on_card;
    while (!rest.empty()) {
        const auto slash = rest.find('/');
        const auto component = rest.substr(0, slash);
        if (!component.empty()) {
            out += (out.empty() ? "" : "/") + keepable_component(component);
        }
        rest = slash == std::string_view::npos ? std::string_view{} : rest.substr(slash + 1);
    }
    return out.empty() ? "unnamed" : out;
}

std::string printable_name(const std::string& raw) {
    std::string out;
    const std::string_view text = raw;
    for (std::size_t at = 0; at < text.size();) {
        const auto character = character_at(text, at);
        const std::size_t bytes = character ? character->bytes : 1;
        const bool kept =
            character && !is_control(character->code_point) && !disturbs_a_line(character->code_point);
        const auto piece = text.substr(at, bytes);
        out += kept ? std::string(piece) : escaped(piece, "\\x{:02X}");
        at += bytes;
    }
    return out;
}

}  // namespace stripbook::book
