#include "print/font_file.h"

#include <fmt/format.h>

#include <fstream>
#include <iterator>
#include <map>
#include <stdexcept>
#include <string>

#include "errors.h"

namespace stripbook::print {

namespace {

constexpr std::size_t characters_of_first_plane = 0x10000;

// Big-endian numbers of the file; throws std::out_of_range behind its end.
class FontBytes {
  public:
    explicit FontBytes(std::string bytes) : bytes_(std::move(bytes)) {}
    [[nodiscard]] unsigned u8(std::size_t at) const { return static_cast<unsigned char>(bytes_.at(at)); }
    [[nodiscard]] std::uint16_t u16(std::size_t at) const {
        return static_cast<std::uint16_t>(u8(at) << 8U | u8(at + 1));
    }
    [[nodiscard]] std::uint32_t u32(std::size_t at) const {
        return static_cast<std::uint32_t>(u16(at)) << 16U | u16(at + 2);
    }
    [[nodiscard]] std::string text(std::size_t at, std::size_t length) const {
        return bytes_.substr(at, length);
    }

  private:
    std::string bytes_;
};

std::map<std::string, std::size_t> table_places(const FontBytes& font) {
    std::map<std::string, std::size_t> places;
    constexpr std::size_t head_bytes = 12;
    constexpr std::size_t entry_bytes = 16;
    const std::size_t tables = font.u16(4);
    for (std::size_t i = 0; i < tables; ++i) {
        const std::size_t entry = head_bytes + i * entry_bytes;
        places[font.text(entry, 4)] = font.u32(entry + 8);
    }
    return places;
}

// The format 4 subtable for Windows Unicode (platform 3, encoding 1).
std::size_t unicode_subtable(const FontBytes& font, std::size_t cmap) {
    const std::size_t subtables = font.u16(cmap + 2);
    for (std::size_t i = 0; i < subtables; ++i) {
        const std::size_t entry = cmap + 4 + 8 * i;
        const std::size_t subtable = cmap + font.u32(entry + 4);
        if (font.u16(entry) == 3 && font.u16(entry + 2) == 1 && font.u16(subtable) == 4) {
            return subtable;
        }
    }
    throw std::runtime_error("no Unicode table");
}

std::vector<std::uint16_t> read_glyphs(const FontBytes& font, std::size_t cmap) {
    std::vector<std::uint16_t> glyphs(characters_of_first_plane, 0);
    const std::size_t table = unicode_subtable(font, cmap);
    const std::size_t twice_segments = font.u16(table + 6);
    const std::size_t ends = table + 14;
    const std::size_t starts = ends + twice_segments + 2;
    const std::size_t deltas = starts + twice_segments;
    const std::size_t offsets = deltas + twice_segments;
    for (std::size_t s = 0; s < twice_segments; s += 2) {
        const unsigned delta = font.u16(deltas + s);
        const std::size_t offset = font.u16(offsets + s);
        const std::size_t start = font.u16(starts + s);
        // 0xFFFF closes the table and is no character.
        for (std::size_t c = start; c <= font.u16(ends + s) && c < 0xFFFF; ++c) {
            unsigned glyph = static_cast<unsigned>(c);
            if (offset != 0) {
                glyph = font.u16(offsets + s + offset + 2 * (c - start));
            }
            const bool missing = offset != 0 && glyph == 0;
            glyphs[c] = missing ? std::uint16_t{0} : static_cast<std::uint16_t>((glyph + delta) & 0xFFFFU);
        }
    }
    return glyphs;
}

std::vector<double> read_widths(const FontBytes& font, const std::map<std::string, std::size_t>& places) {
    const double units_per_em = font.u16(places.at("head") + 18);
    const std::size_t count = font.u16(places.at("hhea") + 34);
    if (units_per_em <= 0 || count == 0) {
        throw std::runtime_error("no widths");
    }
    std::vector<double> widths(count);
    for (std::size_t glyph = 0; glyph < count; ++glyph) {
        widths[glyph] = font.u16(places.at("hmtx") + 4 * glyph) / units_per_em;
    }
    return widths;
}

}  // namespace

FontFile FontFile::read(const std::filesystem::path& file) {
    std::ifstream in(file, std::ios::binary);
    try {
        const FontBytes font(std::string(std::istreambuf_iterator<char>(in), {}));
        const auto places = table_places(font);
        FontFile out;
        out.path_ = file;
        out.glyph_by_character_ = read_glyphs(font, places.at("cmap"));
        out.width_em_by_glyph_ = read_widths(font, places);
        return out;
    } catch (const std::exception&) {
        throw OutsideError(
            fmt::format("the font file {} is missing or damaged; install the package fonts-dejavu-core and "
                        "run the command again",
                        file.string()));
    }
}

double FontFile::width_em(char32_t c) const {
    const std::size_t glyph = glyph_of(c);
    // Glyphs behind the last listed width all have that width.
    return glyph < width_em_by_glyph_.size() ? width_em_by_glyph_[glyph] : width_em_by_glyph_.back();
}

}  // namespace stripbook::print
