#include <fmt/format.h>

#include <algorithm>
#include <iterator>
#include <vector>

#include "print/caption.h"
#include "print/photo_choice.h"
#include "print/report_sections.h"

namespace stripbook::print {

namespace {

constexpr double gap = 4;
constexpr double caption_column = 37;  ///< beside the large photos
constexpr std::size_t most_lines_of_a_caption_item = 6;
constexpr std::size_t most_lines_of_a_detail_item = 3;
constexpr double note_height = 34;  ///< eight lines of it
constexpr double number_height = 5;
constexpr double room_for_caption_below = 30;
constexpr double least_height_of_first = 80;
const Type number_type{Face::bold, 10};

struct SizeMm {
    double width = 0;
    double height = 0;
};

const photo::PrintCopy* copy_of(const ReportDesk& desk, const book::PartPhoto& photo) {
    const auto found = desk.content.copies.find(photo.photo.number);
    const bool drawable = found != desk.content.copies.end() && !found->second.jpeg.empty() &&
                          found->second.width_px > 0 && found->second.height_px > 0;
    return drawable ? &found->second : nullptr;
}

std::string fault_of(const ReportDesk& desk, const book::PartPhoto& photo) {
    const auto found = desk.content.copies.find(photo.photo.number);
    const bool said = found != desk.content.copies.end() && !found->second.fault.empty();
    return said ? found->second.fault : "it does not decode";
}

// The caption, and under it that the picture above is not whole.
Caption caption_on_paper(ReportDesk& desk, const book::PartPhoto& photo) {
    Caption caption = caption_of(photo, desk.printable);
    const auto* copy = copy_of(desk, photo);
    if (copy != nullptr && !copy->fault.empty()) {
        const std::string why =
            desk.printable(copy->fault, "fault of " + photo.photo.number.text(), "the book");
        caption.lines.push_back("The picture is not whole: " + why);
    }
    return caption;
}

bool is_turned_on_its_side(int orientation) {
    return orientation >= 5 && orientation <= 8;
}

// As large as fits, aspect kept. A note in place of a picture is as wide, and low.
SizeMm upright_size(const ReportDesk& desk, const book::PartPhoto& photo, const SizeMm& most) {
    const auto* copy = copy_of(desk, photo);
    if (copy == nullptr) {
        return {most.width, note_height};
    }
    double aspect = static_cast<double>(copy->width_px) / copy->height_px;
    if (is_turned_on_its_side(photo.photo.orientation)) {
        aspect = 1 / aspect;
    }
    const double width = std::min(most.width, most.height * aspect);
    return {width, width / aspect};
}

SizeMm most_of_large(const ReportFlow& flow) {
    // Two fill a page.
    return {flow.width() - caption_column - gap, flow.body_height() / 2 - 2 * gap};
}

SizeMm most_of_detail(const ReportFlow& flow) {
    const double cell = (flow.width() - gap) / 2;
    return {cell, cell};
}

void draw_note_in_place(ReportDesk& desk, const book::PartPhoto& photo, const BoxMm& box) {
    const std::string number = photo.photo.number.text();
    const std::string file = desk.printable(photo.photo.name_on_card, "file name of " + number, "the book");
    const std::string why = desk.printable(fault_of(desk, photo), "fault of " + number, "the book");
    Sheet& sheet = desk.flow.sheet();
    sheet.frame(box, rule_mm);
    const double inset = 4;
    const std::string words = fmt::format("{} cannot be shown: {}. File: {}", number, why, file);
    double y = box.y + inset;
    const auto lines = desk.flow.lettering().wrapped(words, type::small, box.width - 2 * inset, 8);
    for (const std::string& line : lines) {
        y += line_height_mm(type::small);
        sheet.text(box.x + inset, y, line, type::small);
    }
    desk.printable.add_remark(
        fmt::format("{} ({}) is not shown in the report of {}: {}", number, file, desk.tag(), why));
}

void draw_picture(ReportDesk& desk, const book::PartPhoto& photo, const BoxMm& box) {
    const auto* copy = copy_of(desk, photo);
    const auto image = copy == nullptr ? std::nullopt : desk.image_of(photo.photo.number);
    if (!image) {
        draw_note_in_place(desk, photo, box);
        return;
    }
    desk.flow.sheet().picture(*image, box, photo.photo.orientation);
    desk.flow.sheet().frame(box);
    ++desk.photos_shown;
    if (!copy->fault.empty()) {
        const std::string number = photo.photo.number.text();
        desk.printable.add_remark(fmt::format("{} is not whole in the report of {}: {}", number, desk.tag(),
                                              desk.printable(copy->fault, "fault of " + number, "the book")));
    }
}

// The caption's lines as they fit into a column.
std::vector<std::string> wrapped_lines(const ReportDesk& desk, const Caption& caption, double width,
                                       std::size_t most) {
    std::vector<std::string> out;
    for (const std::string& item : caption.lines) {
        for (std::string& line : desk.flow.lettering().wrapped(item, type::small, width, most)) {
            out.push_back(std::move(line));
        }
    }
    return out;
}

double caption_height(const std::vector<std::string>& lines) {
    return number_height + static_cast<double>(lines.size()) * line_height_mm(type::small);
}

void draw_caption(Sheet& sheet, const Caption& caption, const std::vector<std::string>& lines, double x,
                  double y) {
    sheet.text(x, y + 3.4, caption.number, number_type);
    y += number_height;
    for (const std::string& line : lines) {
        sheet.text(x, y + 0.75 * line_height_mm(type::small), line, type::small);
        y += line_height_mm(type::small);
    }
}

// The first photo takes the whole width and what is left of the page, its caption below.
SizeMm most_of_first(const ReportFlow& flow) {
    return {flow.width(), std::min(flow.left_on_page() - room_for_caption_below, flow.width())};
}

void draw_first(ReportDesk& desk, const book::PartPhoto& photo) {
    ReportFlow& flow = desk.flow;
    const SizeMm size = upright_size(desk, photo, most_of_first(flow));
    const Caption caption = caption_on_paper(desk, photo);
    const auto lines = wrapped_lines(desk, caption, flow.width(), 1);
    draw_picture(desk, photo, {flow.left(), flow.y(), size.width, size.height});
    draw_caption(flow.sheet(), caption, lines, flow.left(), flow.y() + size.height + 1.5);
    flow.move_down(size.height + 1.5 + caption_height(lines) + gap);
}

// The others stand two on a page, their captions beside them.
void draw_large(ReportDesk& desk, const book::PartPhoto& photo) {
    ReportFlow& flow = desk.flow;
    const SizeMm size = upright_size(desk, photo, most_of_large(flow));
    const Caption caption = caption_on_paper(desk, photo);
    const auto lines = wrapped_lines(desk, caption, caption_column, most_lines_of_a_caption_item);
    const double height = std::max(size.height, caption_height(lines));
    flow.reserve(height);
    draw_picture(desk, photo, {flow.left(), flow.y(), size.width, size.height});
    draw_caption(flow.sheet(), caption, lines, flow.right() - caption_column, flow.y());
    flow.move_down(height + 2 * gap);
}

// Two photos side by side, their captions on one line below the taller of them.
void draw_pair(ReportDesk& desk, const std::vector<const book::PartPhoto*>& pair) {
    ReportFlow& flow = desk.flow;
    const SizeMm most = most_of_detail(flow);
    std::vector<Caption> captions;
    std::vector<std::vector<std::string>> lines;
    double picture_height = 0;
    double text_height = 0;
    for (const auto* photo : pair) {
        captions.push_back(caption_on_paper(desk, *photo));
        lines.push_back(wrapped_lines(desk, captions.back(), most.width, most_lines_of_a_detail_item));
        picture_height = std::max(picture_height, upright_size(desk, *photo, most).height);
        text_height = std::max(text_height, caption_height(lines.back()));
    }
    flow.reserve(picture_height + 1.5 + text_height);
    for (std::size_t i = 0; i < pair.size(); ++i) {
        const SizeMm size = upright_size(desk, *pair[i], most);
        const double x = flow.left() + static_cast<double>(i) * (most.width + gap);
        draw_picture(desk, *pair[i], {x, flow.y() + picture_height - size.height, size.width, size.height});
        draw_caption(flow.sheet(), captions[i], lines[i], x, flow.y() + picture_height + 1.5);
    }
    flow.move_down(picture_height + 1.5 + text_height + gap);
}

void draw_two_by_two(ReportDesk& desk, const std::vector<const book::PartPhoto*>& photos) {
    for (std::size_t i = 0; i < photos.size(); i += 2) {
        draw_pair(desk, {photos.begin() + static_cast<std::ptrdiff_t>(i),
                         photos.begin() + static_cast<std::ptrdiff_t>(std::min(i + 2, photos.size()))});
    }
}

void draw_space_for_a_photo(ReportDesk& desk, const std::string& words) {
    ReportFlow& flow = desk.flow;
    const BoxMm box{flow.left(), flow.y(), flow.width(), 70};
    flow.sheet().frame(box);
    flow.sheet().text(box.x + gap, box.y + 7, words, type::body);
    flow.move_down(box.height + 2 * gap);
}

void draw_videos(ReportDesk& desk, const std::vector<const book::PartPhoto*>& videos) {
    if (videos.empty()) {
        return;
    }
    ReportFlow& flow = desk.flow;
    std::vector<const book::PartPhoto*> with_picture;
    std::copy_if(videos.begin(), videos.end(), std::back_inserter(with_picture),
                 [&](const auto* video) { return copy_of(desk, *video) != nullptr; });
    flow.reserve(2 * line_height_mm(type::body) + 2 +
                 (with_picture.empty() ? 0 : most_of_detail(flow).height));
    flow.paragraph("Videos, kept in the book:", type::body_bold, 1);
    flow.move_down(1);
    draw_two_by_two(desk, with_picture);
    for (const auto* video : videos) {
        if (copy_of(desk, *video) != nullptr) {
            continue;
        }
        const Caption caption = caption_of(*video, desk.printable);
        std::string words = caption.number;
        for (const std::string& line : caption.lines) {
            words += "   " + line;
        }
        flow.paragraph(words, type::small, 3);
    }
    flow.move_down(2);
}

}  // namespace

std::optional<HPDF_Image> ReportDesk::image_of(book::PhotoNumber photo) {
    const auto known = images.find(photo);
    if (known != images.end()) {
        return known->second;
    }
    const auto copy = content.copies.find(photo);
    const bool drawable = copy != content.copies.end() && !copy->second.jpeg.empty();
    return images[photo] = drawable ? flow.document().add_jpeg(copy->second.jpeg) : std::nullopt;
}

std::vector<double> longest_sides_mm(const book::PartFile& part_file, const Paper& paper) {
    const double text_width = paper.width - ReportFlow::margin_left - ReportFlow::margin_right;
    const auto sorted = sorted_photos(part_file);
    std::vector<double> sides;
    for (const auto& photo : part_file.photos) {
        const auto place = std::find(sorted.large.begin(), sorted.large.end(), &photo);
        if (place == sorted.large.end()) {
            sides.push_back((text_width - gap) / 2);
        } else {
            sides.push_back(place == sorted.large.begin() ? text_width : text_width - caption_column - gap);
        }
    }
    return sides;
}

void draw_as_removed(ReportDesk& desk) {
    const auto sorted = sorted_photos(desk.content.part_file);
    if (sorted.large.empty()) {
        begin_section(desk, "As removed", desk.content.with_forms ? 80 : 8);
        const std::string words = desk.content.part_file.photos.empty()
                                      ? "No photo is linked yet."
                                      : "No photo linked so far shows the part as removed.";
        if (desk.content.with_forms) {
            draw_space_for_a_photo(desk, words);
        } else {
            desk.flow.paragraph(words, type::body, 1);
        }
        return;
    }
    begin_section(desk, "As removed", least_height_of_first + room_for_caption_below);
    if (!sorted.stage_known) {
        desk.flow.paragraph("No linked photo is marked as-removed. These have no stage set:", type::body, 1);
        desk.flow.move_down(2);
    }
    draw_first(desk, *sorted.large.front());
    for (std::size_t i = 1; i < sorted.large.size(); ++i) {
        draw_large(desk, *sorted.large[i]);
    }
}

void draw_before_and_after(ReportDesk& desk) {
    const auto pairs = before_and_after(desk.content.part_file);
    if (pairs.empty()) {
        return;
    }
    begin_section(desk, "Before and after", most_of_detail(desk.flow).height + 25);
    for (const auto& [before, after] : pairs) {
        draw_pair(desk, {before, after});
    }
}

void draw_details(ReportDesk& desk) {
    const auto [large, stage_known, photos, videos] = sorted_photos(desk.content.part_file);
    if (photos.empty() && videos.empty()) {
        return;
    }
    begin_section(desk, "Details and bench", photos.empty() ? 15 : most_of_detail(desk.flow).height + 25);
    draw_two_by_two(desk, photos);
    draw_videos(desk, videos);
}

}  // namespace stripbook::print
