#include "print/marker_face.h"

#include <fmt/format.h>

#include <algorithm>

#include "print/code_drawing.h"
#include "print/qr_drawing.h"

namespace stripbook::print {

namespace {

using number::CheckLine;
using number::MarkerLayout;

constexpr double tick_half = 1.5;

// The words beside the QR code: between it and the next fiducial.
BoxMm words_box(const MarkerLayout& layout) {
    const double left = layout.qr_centre.x + layout.qr_side / 2 + qr_quiet_modules * layout.qr_side / 21;
    const double right = layout.fiducials[1].centre.x - layout.fiducial_side / 2 - layout.module();
    constexpr double widest = 27;
    return {left + 0.5, layout.qr_centre.y - layout.qr_side / 2, std::min(right - left - 1, widest),
            layout.qr_side};
}

BoxMm line_box(const CheckLine& line) {
    return {line.from.x - tick_half, line.from.y - tick_half, line.to.x - line.from.x + 2 * tick_half,
            line.to.y - line.from.y + 2 * tick_half};
}

bool inside(const BoxMm& box, const BoxMm& region) {
    constexpr double slack = 1e-6;
    return box.x >= region.x - slack && box.right() <= region.right() + slack && box.y >= region.y - slack &&
           box.bottom() <= region.bottom() + slack;
}

// Drawing in the marker's own millimetres.
class MarkerPen {
  public:
    MarkerPen(Sheet& sheet, const BoxMm& region, double x, double y)
        : sheet_(sheet), region_(region), dx_(x - region.x), dy_(y - region.y) {}

    [[nodiscard]] bool draws(const BoxMm& box) const { return inside(box, region_); }
    [[nodiscard]] BoxMm on_page(const BoxMm& box) const {
        return {box.x + dx_, box.y + dy_, box.width, box.height};
    }
    void line(double x1, double y1, double x2, double y2, double width) {
        sheet_.line(x1 + dx_, y1 + dy_, x2 + dx_, y2 + dy_, width);
    }
    void text(double x, double y, const std::string& words, const Type& type) {
        sheet_.text(x + dx_, y + dy_, words, type);
    }
    void fill(const std::vector<BoxMm>& boxes) { sheet_.fill(boxes); }

  private:
    Sheet& sheet_;
    BoxMm region_;
    double dx_;
    double dy_;
};

void draw_fiducials(MarkerPen& pen, const MarkerLayout& layout) {
    for (const auto& fiducial : layout.fiducials) {
        const BoxMm box = square_around(fiducial.centre, layout.fiducial_side);
        if (pen.draws(box)) {
            pen.fill(fiducial_rectangles(fiducial::Family::tag25h9, fiducial.identity, 0, pen.on_page(box)));
        }
    }
}

void draw_name(MarkerPen& pen, const Lettering& lettering, const MarkerLayout& layout, int sheet_number) {
    const BoxMm qr = square_around(layout.qr_centre, layout.qr_side);
    if (!pen.draws(qr)) {
        return;
    }
    pen.fill(qr_rectangles_filling(number::marker_sheet_text(layout, sheet_number), pen.on_page(qr),
                                   QrLevel::medium));
    const BoxMm box = words_box(layout);
    const Type kind = lettering.shrunk(layout.kind, {Face::bold, 14}, box.width, 4);
    const std::string number = fmt::format("{:04}", sheet_number);
    double y = box.y + 0.8 * line_height_mm(kind);
    pen.text(box.x, y, layout.kind, kind);
    y += line_height_mm(kind);
    pen.text(box.x, y, number, kind);
}

void draw_check_line(MarkerPen& pen, const CheckLine& line, const std::string& word) {
    if (!pen.draws(line_box(line))) {
        return;
    }
    const bool level = line.from.y == line.to.y;
    pen.line(line.from.x, line.from.y, line.to.x, line.to.y, hairline_mm);
    for (const auto& end : {line.from, line.to}) {
        if (level) {
            pen.line(end.x, end.y - tick_half, end.x, end.y + tick_half, hairline_mm);
        } else {
            pen.line(end.x - tick_half, end.y, end.x + tick_half, end.y, hairline_mm);
        }
    }
    const Type type{Face::regular, 4.5};
    const std::string words = fmt::format("{} {:.1f} mm", word, line.length());
    if (level) {
        pen.text(line.from.x + 6, line.from.y + 2.2, words, type);
    } else {
        pen.text(line.from.x + 1, line.to.y - 3, words, type);
    }
}

void draw_corner_marks(MarkerPen& pen, const MarkerLayout& layout) {
    constexpr double arm = 2;
    const double inset = layout.corner_mark_inset;
    for (const double x : {inset, layout.width - inset}) {
        for (const double y : {inset, layout.height - inset}) {
            if (pen.draws({x - arm, y - arm, 2 * arm, 2 * arm})) {
                pen.line(x - arm, y, x + arm, y, hairline_mm);
                pen.line(x, y - arm, x, y + arm, hairline_mm);
            }
        }
    }
}

}  // namespace

std::vector<BoxMm> marker_items(const MarkerLayout& layout) {
    std::vector<BoxMm> items;
    for (const auto& fiducial : layout.fiducials) {
        items.push_back(square_around(fiducial.centre, layout.fiducial_side + 2 * layout.module()));
    }
    items.push_back(square_around(layout.qr_centre, layout.qr_side * (1 + 2.0 * qr_quiet_modules / 21)));
    items.push_back(words_box(layout));
    items.push_back(line_box(layout.check_across));
    items.push_back(line_box(layout.check_along));
    return items;
}

void draw_marker(Sheet& sheet, const Lettering& lettering, const MarkerLayout& layout, int sheet_number,
                 const BoxMm& region, double x, double y, bool glued) {
    MarkerPen pen(sheet, region, x, y);
    draw_fiducials(pen, layout);
    draw_name(pen, lettering, layout, sheet_number);
    draw_check_line(pen, layout.check_across, "across");
    draw_check_line(pen, layout.check_along, "along");
    if (glued || layout.kind == "mat") {
        draw_corner_marks(pen, layout);
    }
}

}  // namespace stripbook::print
