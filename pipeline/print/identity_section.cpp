#include <fmt/format.h>

#include <algorithm>
#include <vector>

#include "print/qr_drawing.h"
#include "print/report_sections.h"

namespace stripbook::print {

namespace {

constexpr double qr_side = 30;
constexpr std::size_t most_name_lines = 3;
constexpr std::size_t most_field_lines = 2;

struct Field {
    std::string label;
    std::string value;
};

std::string or_not_known(const std::string& text) {
    return text.empty() ? "not known yet" : text;
}

std::string count(const std::optional<int>& number) {
    return number ? std::to_string(*number) : "not known";
}

std::string quantity(const book::Part& part) {
    return fmt::format("expected {}, present {}", count(part.quantity_expected),
                       count(part.quantity_present));
}

std::string face_height(const book::Part& part, bool in_inches) {
    if (!part.face_height_mm) {
        return "not measured yet";
    }
    constexpr double mm_per_inch = 25.4;
    const std::string mm = fmt::format("{:g} mm", *part.face_height_mm);
    const std::string words =
        in_inches ? fmt::format("{:.3f} in ({})", *part.face_height_mm / mm_per_inch, mm) : mm;
    return words + " above the bench";
}

std::string taken_from(ReportDesk& desk) {
    const auto& part = desk.part();
    std::string words = part.parent ? part.parent->text() : "no other part";
    const auto& taken = desk.content.part_file.taken_from_it;
    for (const auto& tag : taken) {
        words += (&tag == &taken.front() ? "; from it came " : ", ") + tag.text();
    }
    return words;
}

std::string bagged(ReportDesk& desk) {
    std::string words;
    for (const auto& bag : desk.content.part_file.fasteners) {
        words += fmt::format("{}{} x {}", words.empty() ? "" : ", ", bag.count,
                             desk.printable(bag.size, "fastener", "the book"));
    }
    return words.empty() ? "none told" : words;
}

std::vector<Field> fields_of(ReportDesk& desk) {
    const book::Part& part = desk.part();
    if (desk.content.for_donor) {
        return {{"Assembly", or_not_known(desk.printable(part.assembly, "assembly"))},
                {"Quantity", quantity(part)},
                {"Place: where it sat on the machine", or_not_known(desk.printable(part.place, "place"))},
                {"Height of the measured face", face_height(part, desk.content.in_inches)},
                {"Fasteners bagged under this tag", bagged(desk)},
                {"Path", part.path}};
    }
    return {{"Assembly", or_not_known(desk.printable(part.assembly, "assembly"))},
            {"Quantity", quantity(part)},
            {"Place: where it sat on the machine", or_not_known(desk.printable(part.place, "place"))},
            {"Height of the measured face", face_height(part, desk.content.in_inches)},
            {"Storage: where it lies now", or_not_known(desk.printable(part.storage, "storage"))},
            {"Path", part.path},
            {"Taken from", taken_from(desk)},
            {"Fasteners bagged under this tag", bagged(desk)}};
}

// Two columns of labelled values between hairlines; the fields are even in number.
void draw_fields(ReportDesk& desk, const std::vector<Field>& fields) {
    ReportFlow& flow = desk.flow;
    constexpr double gap = 6;
    const double widths[2] = {(flow.width() - gap) * 0.6, (flow.width() - gap) * 0.4};
    const double xs[2] = {flow.left(), flow.left() + widths[0] + gap};
    for (std::size_t row = 0; row < fields.size(); row += 2) {
        std::size_t lines = 1;
        flow.sheet().line(flow.left(), flow.y(), flow.right(), flow.y());
        for (std::size_t column = 0; column < 2; ++column) {
            const Field& field = fields[row + column];
            flow.sheet().text(xs[column], flow.y() + 3.2, field.label, type::label);
            const auto wrapped =
                flow.lettering().wrapped(field.value, type::body, widths[column], most_field_lines);
            for (std::size_t i = 0; i < wrapped.size(); ++i) {
                const double baseline = flow.y() + 7.4 + static_cast<double>(i) * line_height_mm(type::body);
                flow.sheet().text(xs[column], baseline, wrapped[i], type::body);
            }
            lines = std::max(lines, wrapped.size());
        }
        flow.move_down(9 + static_cast<double>(lines - 1) * line_height_mm(type::body));
    }
    flow.sheet().line(flow.left(), flow.y(), flow.right(), flow.y());
}

void draw_qr(ReportDesk& desk, double x, double y) {
    const std::string text = "R/" + desk.tag();
    desk.flow.sheet().fill(qr_rectangles(text, {x, y, qr_side, qr_side}));
    desk.flow.sheet().text_around(x + qr_side / 2, y + qr_side + 0.6, text, {Face::mono, 6.5});
}

}  // namespace

std::string ReportDesk::name() const {
    return part().name.empty() ? "name not yet known" : printable(part().name, "name");
}

void begin_section(ReportDesk& desk, std::string_view words, double mm) {
    desk.flow.heading(words, mm);
    const double top = desk.flow.y() - ReportFlow::heading_height;
    desk.bookmarks.push_back({std::string(words), 1, desk.flow.page(), top});
}

void draw_identity(ReportDesk& desk) {
    ReportFlow& flow = desk.flow;
    const double top = flow.y();
    const double text_width = flow.width() - qr_side - 4;
    draw_qr(desk, flow.right() - qr_side + 4, top - 2);
    const std::string machine =
        fmt::format("{}  ({})", desk.printable(desk.content.machine, "title of the machine", "the book"),
                    desk.content.book_code);
    flow.move_down(1);
    flow.paragraph(machine, type::body, flow.left(), text_width, 2);
    if (!desk.content.workshop.empty()) {
        flow.paragraph(desk.printable(desk.content.workshop, "workshop", "the settings"), type::small,
                       flow.left(), text_width, 2);
    }
    const Type tag_type{Face::mono_bold, 30};
    flow.sheet().text(flow.left(), flow.y() + 11, desk.tag(), tag_type);
    flow.move_down(14);
    flow.paragraph(desk.name(), {Face::bold, 15}, flow.left(), text_width, most_name_lines);
    flow.move_down(std::max(4.0, top + qr_side + 3 - flow.y()));
    draw_fields(desk, fields_of(desk));
    flow.move_down(2);
}

}  // namespace stripbook::print
