// The type of the printed pages: faces, widths, and fitting text into a width. Nothing is drawn here.
// Lengths are millimetres; the size of type is in points (1 pt = 25.4 / 72 mm), as everywhere in printing.
#pragma once

#include <array>
#include <string>
#include <string_view>
#include <vector>

#include "print/font_file.h"

namespace stripbook::print {

inline constexpr double mm_per_point = 25.4 / 72;

enum class Face { regular, bold, mono, mono_bold };
inline constexpr std::size_t face_count = 4;

struct Type {
    Face face = Face::regular;
    double size_pt = 9;
};

/// Distance of two baselines.
inline double line_height_mm(const Type& type) {
    return 1.28 * type.size_pt * mm_per_point;
}

class Lettering {
  public:
    /// Reads the font files. Throws OutsideError when one is missing.
    Lettering();

    [[nodiscard]] const FontFile& file(Face face) const { return files_[static_cast<std::size_t>(face)]; }
    /// Whether a character can be drawn in running text, that is in the regular and the bold face.
    [[nodiscard]] bool covers(char32_t c) const;
    [[nodiscard]] double width_mm(std::string_view text, const Type& type) const;

    /// Lines no wider than `width`, broken at spaces, else behind - / \ _ , ; or where a word alone is too
    /// wide. No more than `most_lines`: the last then ends in an ellipsis. At least one line, which may be
    /// empty.
    [[nodiscard]] std::vector<std::string> wrapped(std::string_view text, const Type& type, double width,
                                                   std::size_t most_lines) const;
    /// One line, ended by an ellipsis where it is too wide.
    [[nodiscard]] std::string cut(std::string_view text, const Type& type, double width) const;
    /// `type` made smaller, down to `smallest_pt`, until the text fits on one line.
    [[nodiscard]] Type shrunk(std::string_view text, Type type, double width, double smallest_pt) const;

  private:
    [[nodiscard]] double width_of(std::u32string_view text, const Type& type) const;
    [[nodiscard]] std::u32string cut_to(std::u32string_view text, const Type& type, double width) const;
    [[nodiscard]] std::size_t line_length(std::u32string_view text, const Type& type, double width) const;
    std::array<FontFile, face_count> files_;
};

}  // namespace stripbook::print
