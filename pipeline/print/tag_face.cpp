#include "print/tag_face.h"

#include <fmt/format.h>

#include <algorithm>

#include "number/code_word.h"
#include "number/tag_layout.h"
#include "print/code_drawing.h"
#include "print/qr_drawing.h"

namespace stripbook::print {

namespace {

using number::TagLayout;

// Where the drawing of the large tag lies on the page.
struct Place {
    double x0;
    double y0;
    double scale;
    [[nodiscard]] double x(double tag_mm) const { return x0 + tag_mm * scale; }
    [[nodiscard]] double y(double tag_mm) const { return y0 + tag_mm * scale; }
    [[nodiscard]] BoxMm box(const BoxMm& b) const {
        return {x(b.x), y(b.y), b.width * scale, b.height * scale};
    }
};

// Digits and capitals of the type stand this high, and letters hang this low, as shares of its size (DejaVu
// Sans: capitals 1493, descenders 483 of 2048 units).
constexpr double capital_height = 0.729;
constexpr double descent = 0.236;
// The smallest type that is still read at the bench, on the tag as printed: by size of the tag.
double smallest_name_pt(double scale) {
    return scale < 1 ? 4.5 : 5.5;
}
constexpr double smallest_number_pt = 4;

void draw_codes(Sheet& sheet, const Place& place, const number::TagNumber& tag) {
    std::vector<BoxMm> ink;
    const auto identities = number::identities_of(tag);
    for (std::size_t i = 0; i < identities.size(); ++i) {
        const BoxMm box = place.box(square_around(TagLayout::fiducial_centres[i], TagLayout::fiducial_side));
        const auto part =
            fiducial_rectangles(fiducial::Family::tag36h11, identities[i], static_cast<int>(i), box);
        ink.insert(ink.end(), part.begin(), part.end());
    }
    const BoxMm qr = place.box(square_around(TagLayout::qr_centre, TagLayout::qr_side));
    const auto part = qr_rectangles_filling(tag.text(), qr, QrLevel::quartile);
    ink.insert(ink.end(), part.begin(), part.end());
    sheet.fill(ink);
}

void draw_hole(Sheet& sheet, const Place& place) {
    const double x = place.x(TagLayout::hole_centre.x);
    const double y = place.y(TagLayout::hole_centre.y);
    const double arm = 1.2 * place.scale;
    sheet.circle(x, y, TagLayout::hole_diameter * place.scale);
    sheet.line(x - arm, y, x + arm, y);
    sheet.line(x, y - arm, x, y + arm);
}

// The type in which `text` just fills `width`, and no higher than `height`.
Type filling(const Lettering& lettering, const std::string& text, Face face, double width, double height) {
    constexpr double trial_pt = 100;
    const double by_width = trial_pt * width / lettering.width_mm(text, {face, trial_pt});
    const double by_height = height / capital_height / mm_per_point;
    return {face, std::min(by_width, by_height)};
}

// One block of text: shrunk to fit its line, then wrapped, then cut. Returns where the next may begin.
double draw_block(Sheet& sheet, const Lettering& lettering, const BoxMm& box, const std::string& text,
                  const Type& largest, double smallest_pt, std::size_t most_lines) {
    if (text.empty() || most_lines == 0) {
        return box.y;
    }
    const Type type = lettering.shrunk(text, largest, box.width, smallest_pt);
    double y = box.y;
    for (const std::string& line : lettering.wrapped(text, type, box.width, most_lines)) {
        sheet.text(box.x, y + capital_height * type.size_pt * mm_per_point, line, type);
        y += line_height_mm(type);
    }
    return y;
}

// Lines of the smallest type that stand in `height`: the last needs no distance below it.
std::size_t lines_in(double height, double smallest_pt) {
    const double distance = line_height_mm({Face::regular, smallest_pt});
    const double last = (capital_height + descent) * smallest_pt * mm_per_point;
    return static_cast<std::size_t>(std::max(1.0, 1 + (height - last) / distance));
}

// Name and place in what is left of the text area. Text that needs more than a line is in the smallest type,
// so that as many lines fit as are counted here; a single line may be larger where that leaves room.
void draw_words(Sheet& sheet, const Lettering& lettering, const BoxMm& box, const TagWords& words,
                double scale) {
    const double smallest = smallest_name_pt(scale);
    const std::size_t lines = lines_in(box.height, smallest);
    const std::size_t place_lines = words.place.empty() || lines < 2 ? 0 : 1;
    const Type largest{Face::bold, std::max(smallest, 8 * scale)};
    const double y = draw_block(sheet, lettering, box, words.name, largest, smallest, lines - place_lines);
    const BoxMm rest{box.x, y, box.width, box.bottom() - y};
    const std::size_t left = place_lines == 0 ? 0 : std::min<std::size_t>(2, lines_in(rest.height, smallest));
    draw_block(sheet, lettering, rest, words.place, {Face::regular, smallest}, smallest, left);
}

// The strips above and below the QR code are free of codes: lines to write on.
void draw_lines(Sheet& sheet, const Place& place, bool blank) {
    constexpr double left = 36;
    constexpr double right = 97;
    constexpr double upper = 11.5;
    constexpr double lower = 54;
    const Type caption{Face::regular, 5};
    for (const double y : {upper, lower}) {
        sheet.line(place.x(left), place.y(y), place.x(right), place.y(y));
    }
    if (blank) {
        sheet.text(place.x(left), place.y(upper) - 5.5 * place.scale, "part", caption);
        sheet.text(place.x(left), place.y(lower) - 5.5 * place.scale, "place", caption);
    }
}

}  // namespace

void draw_tag(Sheet& sheet, const Lettering& lettering, double x, double y, double scale,
              const number::TagNumber& tag, const TagWords& words) {
    const Place place{x, y, scale};
    draw_codes(sheet, place, tag);
    draw_hole(sheet, place);
    draw_lines(sheet, place, words.blank());

    const BoxMm area =
        place.box({TagLayout::text_left, TagLayout::text_top, TagLayout::text_right - TagLayout::text_left,
                   TagLayout::text_bottom - TagLayout::text_top});
    const std::string serial = fmt::format("{:05}", tag.serial());
    const Type large = filling(lettering, serial, Face::bold, area.width, 7 * scale);
    const double serial_base = area.y + capital_height * large.size_pt * mm_per_point;
    sheet.text(area.x, serial_base, serial, large);
    const Type small{Face::mono_bold, std::max(smallest_number_pt, 7.5 * scale)};
    const double number_base = serial_base + (0.9 * scale) + capital_height * small.size_pt * mm_per_point;
    sheet.text(area.x, number_base, tag.text(), small);
    const double below = number_base + 1.1 * scale;
    const BoxMm rest{area.x, below, area.width, area.bottom() - below};
    if (words.blank()) {
        sheet.line(rest.x, rest.bottom(), rest.right(), rest.bottom());
    } else {
        draw_words(sheet, lettering, rest, words, scale);
    }
}

}  // namespace stripbook::print
