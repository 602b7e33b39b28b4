#include <fmt/format.h>

#include <algorithm>

#include "measure/dimension.h"
#include "print/job_front.h"
#include "print/job_sections.h"

namespace stripbook::print {

namespace {

constexpr double caption_height = 6;
constexpr double least_cover_height = 40;

std::string counted(std::size_t count, const char* one, const char* many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

std::string what_is_in_it(const JobContent& content) {
    std::size_t photos = 0;
    for (const auto& part : content.parts) {
        photos += part.photos;
    }
    return fmt::format("{}, {}", counted(content.parts.size(), "part", "parts"),
                       counted(photos, "photo", "photos"));
}

// As large as the space above `bottom` allows.
void draw_cover(JobDesk& desk, const Cover& cover, double bottom) {
    ReportFlow& flow = desk.flow;
    const auto image = flow.document().add_jpeg(cover.copy.jpeg);
    const double most_height = bottom - flow.y() - caption_height;
    if (!image || most_height < least_cover_height) {
        return;
    }
    const bool on_its_side = cover.orientation >= 5 && cover.orientation <= 8;
    const double width_px = on_its_side ? cover.copy.height_px : cover.copy.width_px;
    const double height_px = on_its_side ? cover.copy.width_px : cover.copy.height_px;
    const double scale = std::min(flow.width() / width_px, most_height / height_px);
    const BoxMm box{flow.left(), flow.y(), width_px * scale, height_px * scale};
    flow.sheet().picture(*image, box, cover.orientation);
    flow.sheet().frame(box);
    flow.move_down(box.height + 1.5);
    flow.paragraph(desk.printable(cover.caption, "caption of the title picture", "the book"), type::small, 1);
}

std::vector<std::string> notices(const JobContent& content) {
    std::vector<std::string> lines;
    if (content.for_donor) {
        lines.emplace_back(
            "For those who support the work: storage places, the names of those who did it and the "
            "workshop's "
            "own notes are left out.");
    }
    lines.emplace_back(measure::no_gauge_note);
    lines.emplace_back(
        "Before work on any part: its cautions stand in its report; local codes and licensed "
        "practice come first.");
    return lines;
}

}  // namespace

void draw_title_page(JobDesk& desk) {
    ReportFlow& flow = desk.flow;
    const JobContent& content = desk.content;
    constexpr Type large{Face::bold, 26};
    constexpr Type subtitle{Face::regular, 15};
    flow.move_down(12);
    if (!content.workshop.empty()) {
        flow.paragraph(desk.printable(content.workshop, "workshop", "the settings"), type::body, 2);
        flow.move_down(2);
    }
    flow.paragraph(desk.printable(content.machine, "title of the machine", "the book"), large, 3);
    flow.move_down(2);
    flow.paragraph(desk.printable(title_of(content), "assembly"), subtitle, 2);
    flow.move_down(3);
    flow.paragraph(
        fmt::format("{}   |   book {}   |   {}", content.date, content.book_code, what_is_in_it(content)),
        type::body, 1);
    flow.move_down(8);
    const auto lines = notices(content);
    const double notices_top =
        flow.body_bottom() - 2 * static_cast<double>(lines.size()) * line_height_mm(type::small) - 4;
    if (content.cover) {
        draw_cover(desk, *content.cover, notices_top - 4);
    }
    flow.move_down(notices_top - flow.y());
    flow.sheet().line(flow.left(), flow.y(), flow.right(), flow.y());
    flow.move_down(2);
    for (const auto& line : lines) {
        flow.paragraph(line, type::small, 2);
    }
}

}  // namespace stripbook::print
