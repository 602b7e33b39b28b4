// What a TrueType font file says of its characters: which it draws and how wide they are (ISO/IEC 14496-22,
// tables cmap format 4, head, hhea and hmtx). The PDF library draws; this answers before anything is drawn.
#pragma once

#include <cstdint>
#include <filesystem>
#include <vector>

namespace stripbook::print {

class FontFile {
  public:
    /// Throws OutsideError, naming the file and the package it comes from, when it is not a font file we can
    /// read.
    static FontFile read(const std::filesystem::path& file);

    /// Whether the font draws this character. Only the first plane of Unicode: the PDF library writes no
    /// other.
    [[nodiscard]] bool covers(char32_t c) const { return glyph_of(c) != 0; }
    /// Width in em (the size of the type); that of the "no such character" box where the font lacks it.
    [[nodiscard]] double width_em(char32_t c) const;
    [[nodiscard]] const std::filesystem::path& path() const { return path_; }

  private:
    [[nodiscard]] std::uint16_t glyph_of(char32_t c) const {
        return c < glyph_by_character_.size() ? glyph_by_character_[c] : std::uint16_t{0};
    }
    std::filesystem::path path_;
    std::vector<std::uint16_t> glyph_by_character_;
    std::vector<double> width_em_by_glyph_;
};

}  // namespace stripbook::print
