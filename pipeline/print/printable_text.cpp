#include "print/printable_text.h"

#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>
#include <array>
#include <optional>

#include "print/characters.h"

namespace stripbook::print {

namespace {

struct ScriptRange {
    char32_t first;
    char32_t last;
    const char* name;
};

// Scripts whose letters join, stack, reorder or run from right to left, and scripts the type has no letters
// for, by their blocks in the Unicode standard (Blocks.txt). Named so that the reader knows what is missing.
constexpr std::array scripts{
    ScriptRange{0x0590, 0x05FF, "Hebrew"},
    ScriptRange{0x0600, 0x06FF, "Arabic"},
    ScriptRange{0x0700, 0x074F, "Syriac"},
    ScriptRange{0x0750, 0x077F, "Arabic"},
    ScriptRange{0x0780, 0x07BF, "Thaana"},
    ScriptRange{0x07C0, 0x07FF, "N'Ko"},
    ScriptRange{0x0800, 0x083F, "Samaritan"},
    ScriptRange{0x0840, 0x085F, "Mandaic"},
    ScriptRange{0x0860, 0x086F, "Syriac"},
    ScriptRange{0x0870, 0x08FF, "Arabic"},
    ScriptRange{0x0900, 0x097F, "Devanagari"},
    ScriptRange{0x0980, 0x09FF, "Bengali"},
    ScriptRange{0x0A00, 0x0A7F, "Gurmukhi"},
    ScriptRange{0x0A80, 0x0AFF, "Gujarati"},
    ScriptRange{0x0B00, 0x0B7F, "Oriya"},
    ScriptRange{0x0B80, 0x0BFF, "Tamil"},
    ScriptRange{0x0C00, 0x0C7F, "Telugu"},
    ScriptRange{0x0C80, 0x0CFF, "Kannada"},
    ScriptRange{0x0D00, 0x0D7F, "Malayalam"},
    ScriptRange{0x0D80, 0x0DFF, "Sinhala"},
    ScriptRange{0x0E00, 0x0E7F, "Thai"},
    ScriptRange{0x0E80, 0x0EFF, "Lao"},
    ScriptRange{0x0F00, 0x0FFF, "Tibetan"},
    ScriptRange{0x1000, 0x109F, "Myanmar"},
    ScriptRange{0x1100, 0x11FF, "Korean"},
    ScriptRange{0x1200, 0x139F, "Ethiopic"},
    ScriptRange{0x13A0, 0x13FF, "Cherokee"},
    ScriptRange{0x1700, 0x177F, "Philippine"},
    ScriptRange{0x1780, 0x17FF, "Khmer"},
    ScriptRange{0x1800, 0x18AF, "Mongolian"},
    ScriptRange{0x1900, 0x197F, "Limbu or Tai Le"},
    ScriptRange{0x1980, 0x19DF, "New Tai Lue"},
    ScriptRange{0x19E0, 0x19FF, "Khmer"},
    ScriptRange{0x1A00, 0x1AAF, "Buginese or Tai Tham"},
    ScriptRange{0x1B00, 0x1BBF, "Balinese or Sundanese"},
    ScriptRange{0x1C00, 0x1C4F, "Lepcha"},
    ScriptRange{0x2E80, 0x303F, "Chinese or Japanese"},
    ScriptRange{0x3040, 0x30FF, "Japanese"},
    ScriptRange{0x3100, 0x312F, "Chinese"},
    ScriptRange{0x3130, 0x318F, "Korean"},
    ScriptRange{0x31A0, 0x9FFF, "Chinese or Japanese"},
    ScriptRange{0xA000, 0xA4CF, "Yi"},
    ScriptRange{0xA840, 0xA8DF, "Phags-pa or Saurashtra"},
    ScriptRange{0xA8E0, 0xA8FF, "Devanagari"},
    ScriptRange{0xA960, 0xA97F, "Korean"},
    ScriptRange{0xA980, 0xA9DF, "Javanese"},
    ScriptRange{0xA9E0, 0xAA7F, "Myanmar or Cham"},
    ScriptRange{0xAA80, 0xAADF, "Tai Viet"},
    ScriptRange{0xAC00, 0xD7FF, "Korean"},
    ScriptRange{0xF900, 0xFAFF, "Chinese or Japanese"},
    ScriptRange{0xFB1D, 0xFB4F, "Hebrew"},
    ScriptRange{0xFB50, 0xFDFF, "Arabic"},
    ScriptRange{0xFE70, 0xFEFE, "Arabic"},
    ScriptRange{0xFF00, 0xFFEF, "Chinese or Japanese"},
    ScriptRange{0x11000, 0x1107F, "Brahmi"},
    ScriptRange{0x1F000, 0x1FAFF, nullptr},
    ScriptRange{0x20000, 0x3FFFF, "Chinese or Japanese"},
};

std::optional<std::string> why_not_this(char32_t c, const Lettering& lettering) {
    const auto script = std::find_if(scripts.begin(), scripts.end(),
                                     [c](const ScriptRange& s) { return c >= s.first && c <= s.last; });
    if (script != scripts.end()) {
        return script->name == nullptr ? "with picture signs (emoji)"
                                       : fmt::format("in {} script", script->name);
    }
    const auto& property = *utf8proc_get_property(static_cast<utf8proc_int32_t>(c));
    const auto category = property.category;
    if (category == UTF8PROC_CATEGORY_MN || category == UTF8PROC_CATEGORY_MC ||
        category == UTF8PROC_CATEGORY_ME) {
        return "with combined marks";
    }
    if (property.bidi_class == UTF8PROC_BIDI_CLASS_R || property.bidi_class == UTF8PROC_BIDI_CLASS_AL) {
        return "in a script that runs from right to left";
    }
    if (!lettering.covers(c)) {
        return "with characters that the report's type lacks";
    }
    return std::nullopt;
}

}  // namespace

std::string why_not_printable(std::u32string_view text, const Lettering& lettering) {
    for (const char32_t c : text) {
        if (const auto why = why_not_this(c, lettering)) {
            return *why;
        }
    }
    return {};
}

std::string PrintableText::operator()(std::string_view text, const std::string& what,
                                      const std::string& where) {
    const std::u32string characters = characters_of(text);
    const std::string why = why_not_printable(characters, lettering_);
    if (why.empty()) {
        return utf8_of(characters);
    }
    add_remark(fmt::format("{}: the {} is {} and cannot be printed; the report says so in its place; see {}",
                           record_, what, why, where));
    return fmt::format("({} {}, {} character{}: this report cannot print it; see {})", what, why,
                       characters.size(), characters.size() == 1 ? "" : "s", where);
}

void PrintableText::add_remark(std::string remark) {
    if (std::find(remarks_.begin(), remarks_.end(), remark) == remarks_.end()) {
        remarks_.push_back(std::move(remark));
    }
}

}  // namespace stripbook::print
