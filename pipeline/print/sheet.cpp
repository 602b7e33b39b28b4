#include "print/sheet.h"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>
#include <utility>

#include "print/characters.h"
#include "print/pdf_document.h"

namespace stripbook::print {

using namespace std::string_view_literals;

namespace {

HPDF_REAL points(double mm) {
    return static_cast<HPDF_REAL>(mm / mm_per_point);
}

// The characters that Windows code page 1252 has at 0x80 to 0x9F; the others of it are those of ISO/IEC
// 8859-1.
constexpr std::u32string_view cp1252_from_0x80 =
    U"\u20AC\0\u201A\u0192\u201E\u2026\u2020\u2021\u02C6\u2030\u0160\u2039\u0152\0\u017D\0"
    U"\0\u2018\u2019\u201C\u201D\u2022\u2013\u2014\u02DC\u2122\u0161\u203A\u0153\0\u017E\u0178"sv;

std::optional<char> cp1252_of(char32_t c) {
    if ((c >= 0x20 && c < 0x7F) || (c >= 0xA0 && c <= 0xFF)) {
        return static_cast<char>(c);
    }
    const auto place = c == 0 ? std::u32string_view::npos : cp1252_from_0x80.find(c);
    if (place == std::u32string_view::npos) {
        return std::nullopt;
    }
    return static_cast<char>(0x80 + place);
}

// The bytes for the WinAnsi font, or nothing where the text needs the Unicode one.
std::optional<std::string> cp1252_of(std::string_view utf8) {
    std::string out;
    for (const char32_t c : characters_of(utf8)) {
        const auto byte = cp1252_of(c);
        if (!byte) {
            return std::nullopt;
        }
        out += *byte;
    }
    return out;
}

// Where a point of the stored picture (u right, v down, 0..1) lies in the upright one. CIPA DC-008, tag
// 0x0112, says where the stored first row and first column belong.
std::pair<double, double> upright_from_stored(int orientation, double u, double v) {
    switch (orientation) {
        case 2:
            return {1 - u, v};
        case 3:
            return {1 - u, 1 - v};
        case 4:
            return {u, 1 - v};
        case 5:
            return {v, u};
        case 6:
            return {1 - v, u};
        case 7:
            return {1 - v, 1 - u};
        case 8:
            return {v, 1 - u};
        default:
            return {u, v};
    }
}

}  // namespace

HPDF_REAL Sheet::x_pt(double x) const {
    return points(x);
}

HPDF_REAL Sheet::y_pt(double y) const {
    return points(height_ - y);
}

void Sheet::text(double x, double baseline_y, std::string_view utf8, const Type& type) {
    if (utf8.empty()) {
        return;
    }
    const auto narrow = cp1252_of(utf8);
    const std::string bytes = narrow ? *narrow : std::string(utf8);
    HPDF_Page_BeginText(page_);
    HPDF_Page_SetFontAndSize(page_, document_.font(type.face, !narrow), static_cast<HPDF_REAL>(type.size_pt));
    HPDF_Page_TextOut(page_, x_pt(x), y_pt(baseline_y), bytes.c_str());
    HPDF_Page_EndText(page_);
    document_.check();
}

void Sheet::text_to_the_left_of(double x, double baseline_y, std::string_view utf8, const Type& type) {
    text(x - document_.lettering().width_mm(utf8, type), baseline_y, utf8, type);
}

void Sheet::text_around(double x, double baseline_y, std::string_view utf8, const Type& type) {
    text(x - document_.lettering().width_mm(utf8, type) / 2, baseline_y, utf8, type);
}

void Sheet::line(double x1, double y1, double x2, double y2, double width) {
    HPDF_Page_SetLineWidth(page_, points(width));
    HPDF_Page_MoveTo(page_, x_pt(x1), y_pt(y1));
    HPDF_Page_LineTo(page_, x_pt(x2), y_pt(y2));
    HPDF_Page_Stroke(page_);
    document_.check();
}

void Sheet::frame(const BoxMm& box, double width) {
    HPDF_Page_SetLineWidth(page_, points(width));
    HPDF_Page_Rectangle(page_, x_pt(box.x), y_pt(box.bottom()), points(box.width), points(box.height));
    HPDF_Page_Stroke(page_);
    document_.check();
}

void Sheet::fill(const std::vector<BoxMm>& boxes) {
    for (const BoxMm& box : boxes) {
        HPDF_Page_Rectangle(page_, x_pt(box.x), y_pt(box.bottom()), points(box.width), points(box.height));
    }
    HPDF_Page_Fill(page_);
    document_.check();
}

void Sheet::dashes(double x1, double y1, double x2, double y2, double width) {
    constexpr double dash = 2;
    const double length = std::hypot(x2 - x1, y2 - y1);
    const int count = std::max(1, static_cast<int>(length / (2 * dash)));
    HPDF_Page_SetLineWidth(page_, points(width));
    for (int i = 0; i < count; ++i) {
        const double from = (i + 0.25) / count;
        const double to = (i + 0.75) / count;
        HPDF_Page_MoveTo(page_, x_pt(x1 + (x2 - x1) * from), y_pt(y1 + (y2 - y1) * from));
        HPDF_Page_LineTo(page_, x_pt(x1 + (x2 - x1) * to), y_pt(y1 + (y2 - y1) * to));
    }
    HPDF_Page_Stroke(page_);
    document_.check();
}

void Sheet::hatch(const BoxMm& box, double distance, int slope, double width) {
    HPDF_Page_GSave(page_);
    HPDF_Page_Rectangle(page_, x_pt(box.x), y_pt(box.bottom()), points(box.width), points(box.height));
    HPDF_Page_Clip(page_);
    HPDF_Page_EndPath(page_);
    HPDF_Page_SetLineWidth(page_, points(width));
    // Slanting lines that begin left of the box by its width reach all of it. The same grid on the whole
    // page, so that boxes side by side match.
    const double rise = slope * box.width;
    const double step = slope == 0 ? distance : distance * std::sqrt(2.0);
    const double first = std::ceil((box.y - std::abs(rise)) / step) * step;
    const int lines = std::max(0, static_cast<int>((box.bottom() + std::abs(rise) - first) / step) + 1);
    for (int i = 0; i < lines; ++i) {
        const double y = first + i * step;
        HPDF_Page_MoveTo(page_, x_pt(box.x), y_pt(y));
        HPDF_Page_LineTo(page_, x_pt(box.right()), y_pt(y - rise));
    }
    HPDF_Page_Stroke(page_);
    HPDF_Page_GRestore(page_);
    document_.check();
}

void Sheet::circle(double x, double y, double diameter, double width) {
    HPDF_Page_SetLineWidth(page_, points(width));
    HPDF_Page_Circle(page_, x_pt(x), y_pt(y), points(diameter / 2));
    HPDF_Page_Stroke(page_);
    document_.check();
}

void Sheet::tick_box(double x, double y, double side, bool ticked) {
    frame({x, y, side, side}, 0.25);
    if (ticked) {
        constexpr double inset = 0.6;
        line(x + inset, y + inset, x + side - inset, y + side - inset, 0.5);
        line(x + inset, y + side - inset, x + side - inset, y + inset, 0.5);
    }
}

void Sheet::picture(HPDF_Image image, const BoxMm& box, int orientation) {
    // libharu's picture fills the square from (0, 0), its bottom-left corner, to (1, 1): v runs upward there.
    const auto page_from_square = [&](double u, double up) {
        const auto [right, down] = upright_from_stored(orientation, u, 1 - up);
        return std::pair{x_pt(box.x + box.width * right), y_pt(box.y + box.height * down)};
    };
    const auto [x0, y0] = page_from_square(0, 0);
    const auto [x1, y1] = page_from_square(1, 0);
    const auto [x2, y2] = page_from_square(0, 1);
    HPDF_Page_GSave(page_);
    HPDF_Page_Concat(page_, x1 - x0, y1 - y0, x2 - x0, y2 - y0, x0, y0);
    HPDF_Page_ExecuteXObject(page_, image);
    HPDF_Page_GRestore(page_);
    document_.check();
}

}  // namespace stripbook::print
