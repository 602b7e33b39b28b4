#include "print/lettering.h"

#include "print/characters.h"

namespace stripbook::print {

namespace {

constexpr const char* font_folder = "/usr/share/fonts/truetype/dejavu/";
constexpr char32_t ellipsis = U'\u2026';

FontFile dejavu(const char* name) {
    return FontFile::read(std::string(font_folder) + name);
}

bool may_break_behind(char32_t c) {
    return std::u32string_view(U"-/\\_,;").find(c) != std::u32string_view::npos;
}

std::u32string_view without_spaces_in_front(std::u32string_view text) {
    const auto first = text.find_first_not_of(U' ');
    return first == std::u32string_view::npos ? std::u32string_view{} : text.substr(first);
}

std::u32string_view without_spaces_behind(std::u32string_view text) {
    return text.substr(0, text.find_last_not_of(U' ') + 1);
}

}  // namespace

Lettering::Lettering()
    : files_{dejavu("DejaVuSans.ttf"), dejavu("DejaVuSans-Bold.ttf"), dejavu("DejaVuSansMono.ttf"),
             dejavu("DejaVuSansMono-Bold.ttf")} {}

bool Lettering::covers(char32_t c) const {
    return file(Face::regular).covers(c) && file(Face::bold).covers(c);
}

double Lettering::width_of(std::u32string_view text, const Type& type) const {
    double em = 0;
    for (const char32_t c : text) {
        em += file(type.face).width_em(c);
    }
    return em * type.size_pt * mm_per_point;
}

double Lettering::width_mm(std::string_view text, const Type& type) const {
    return width_of(characters_of(text), type);
}

// How many characters of `text` make the next line; at least one.
std::size_t Lettering::line_length(std::u32string_view text, const Type& type, double width) const {
    double used_mm = 0;
    std::size_t last_break = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        used_mm += width_of(text.substr(i, 1), type);
        if (text[i] == U' ') {
            last_break = i;
        } else if (used_mm > width) {
            return last_break > 0 ? last_break : std::max<std::size_t>(i, 1);
        } else if (may_break_behind(text[i])) {
            last_break = i + 1;
        }
    }
    return text.size();
}

std::u32string Lettering::cut_to(std::u32string_view text, const Type& type, double width) const {
    if (width_of(text, type) <= width) {
        return std::u32string(text);
    }
    double used_mm = width_of(std::u32string_view(&ellipsis, 1), type);
    std::size_t kept = 0;
    while (kept < text.size() && used_mm + width_of(text.substr(kept, 1), type) <= width) {
        used_mm += width_of(text.substr(kept, 1), type);
        ++kept;
    }
    return std::u32string(without_spaces_behind(text.substr(0, kept))) + ellipsis;
}

std::vector<std::string> Lettering::wrapped(std::string_view text, const Type& type, double width,
                                            std::size_t most_lines) const {
    const std::u32string all = characters_of(text);
    std::u32string_view rest = without_spaces_behind(without_spaces_in_front(all));
    std::vector<std::string> lines;
    while (!rest.empty() && lines.size() + 1 < most_lines) {
        const std::size_t length = line_length(rest, type, width);
        lines.push_back(utf8_of(without_spaces_behind(rest.substr(0, length))));
        rest = without_spaces_in_front(rest.substr(length));
    }
    if (!rest.empty() || lines.empty()) {
        lines.push_back(utf8_of(cut_to(rest, type, width)));
    }
    return lines;
}

std::string Lettering::cut(std::string_view text, const Type& type, double width) const {
    return utf8_of(cut_to(characters_of(text), type, width));
}

Type Lettering::shrunk(std::string_view text, Type type, double width, double smallest_pt) const {
    const double needed_mm = width_mm(text, type);
    if (needed_mm > width) {
        type.size_pt = std::max(smallest_pt, type.size_pt * width / needed_mm);
    }
    return type;
}

}  // namespace stripbook::print
