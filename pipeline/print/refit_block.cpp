#include "print/refit_block.h"

#include <fmt/format.h>

#include <algorithm>

#include "print/caption.h"

namespace stripbook::print {

namespace {

constexpr double header_height = 25;
constexpr double tick_row_height = 13;
constexpr double caption_height = 5.5;
constexpr double gap = 2.5;
constexpr double facts_column = 62;
constexpr double column_gap = 5;
constexpr double caution_inset = 3;
constexpr double note_height = 24;         ///< in place of a picture that cannot be shown
constexpr double least_photo_height = 55;  ///< smaller it goes to the next page
constexpr double most_photo_height = 120;
constexpr double half_page_gap = 6;  ///< between two parts on a page

double height_between(const std::vector<FactLine>& lines, double around) {
    return lines.empty() ? 0 : height_of(lines) + around;
}

// Head of the block: what stands over photos and facts.
double top_height(const Block& block, bool first) {
    return header_height + (first ? height_between(block.standing, 1.5) +
                                        height_between(block.cautions, 2 * caution_inset + 2)
                                  : 0);
}

std::string caption_of(const SheetPhoto& shown, PrintableText& printable) {
    const auto& photo = *shown.photo;
    const std::string stage = photo.stage.empty() ? "stage not set" : photo.stage;
    const std::string when = time_for_people(photo.photo.corrected_seconds);
    if (shown.of_parent == nullptr) {
        return fmt::format("{}  {}, {}", photo.photo.number.text(), stage, when);
    }
    return fmt::format("{}  {}, what it was stripped from: {} {}", photo.photo.number.text(), stage,
                       shown.of_parent->tag.text(), printable(shown.of_parent->name, "name"));
}

PlacedPhoto placed(const SheetPhoto& shown, const RefitPictures& pictures, double most_width,
                   double most_height, PrintableText& printable) {
    const SheetPicture& picture = pictures.of(*shown.photo);
    PlacedPhoto place{shown, most_width, note_height, caption_of(shown, printable)};
    if (picture.image) {
        place.width = std::min(most_width, most_height * picture.aspect);
        place.height = place.width / picture.aspect;
    }
    if (!picture.fault.empty()) {
        const std::string why = printable(picture.fault, "fault of a photo", "the book");
        place.caption = picture.image ? place.caption + "; not whole: " + why : why;
        printable.add_remark(fmt::format("{} is {} on the refit sheet: {}", shown.photo->photo.number.text(),
                                         picture.image ? "not whole" : "not shown", why));
    }
    return place;
}

// Two photos share a page; a single one takes what half a page leaves it, so that two parts fit on one.
double most_height_of(std::size_t on_page, std::size_t of_part, double page_height, double top) {
    const double around = top + tick_row_height + gap;
    const auto count = static_cast<double>(on_page);
    const double share = (page_height - around) / count - caption_height - gap;
    if (of_part > 1) {
        return std::min(share, most_photo_height);
    }
    const double of_half_page = (page_height - half_page_gap) / 2 - around - caption_height - gap;
    return std::min(share, std::max(of_half_page, least_photo_height));
}

// How many of the photos left stand under a head of this height: two, and fewer where they would be too
// small.
std::size_t photos_beside(double top, double page_height, std::size_t left, std::size_t of_part) {
    std::size_t count = std::min<std::size_t>(2, left);
    while (count > 0 && most_height_of(count, of_part, page_height, top) < least_photo_height) {
        --count;
    }
    return count;
}

std::vector<FactLine> lines_without(const RefitSheetPart& part, bool no_photo, double width,
                                    const Lettering& lettering) {
    std::vector<FactLine> lines;
    const Type type{Face::regular, 11};
    if (no_photo) {
        lines.push_back({"No as-removed photo of it in the book.", type, false, 0, 0});
    }
    if (part.notes.empty() && no_photo) {
        lines.push_back(
            {lettering.cut("No match marks, shims or other refit notes in the book.", type, width), type,
             false, 0, 0});
    }
    return lines;
}

// The facts that still fit into `height`, taken from the front.
std::vector<FactLine> taken(std::vector<FactLine>& facts, double height) {
    std::vector<FactLine> fitting;
    double used = 0;
    while (fitting.size() < facts.size() && used + facts[fitting.size()].height() <= height) {
        used += facts[fitting.size()].height();
        fitting.push_back(facts[fitting.size()]);
    }
    facts.erase(facts.begin(), facts.begin() + static_cast<std::ptrdiff_t>(fitting.size()));
    return fitting;
}

void add_pages(Block& block, const std::vector<SheetPhoto>& photos, std::vector<FactLine> facts,
               const RefitPictures& pictures, PrintableText& printable, const BoxMm& page,
               double photo_width) {
    std::size_t shown = 0;
    do {
        BlockPage next;
        next.first = block.pages.empty();
        const double top = top_height(block, next.first);
        const std::size_t count = photos_beside(top, page.height, photos.size() - shown, photos.size());
        const double width = facts.empty() ? page.width : photo_width;  // nothing stands beside them any more
        double photos_height = 0;
        for (std::size_t i = 0; i < count; ++i, ++shown) {
            next.photos.push_back(placed(photos[shown], pictures, width,
                                         most_height_of(count, photos.size(), page.height, top), printable));
            photos_height += next.photos.back().height + caption_height + gap;
        }
        next.facts = taken(facts, page.height - top - tick_row_height - gap);
        next.height = top + std::max(photos_height, height_of(next.facts)) + gap;
        next.last = shown == photos.size() && facts.empty();
        next.height += tick_row_height;
        block.pages.push_back(next);
    } while (!block.pages.back().last);
}

// As large as it fits on one line, else on two.
void draw_name(Sheet& sheet, const Lettering& lettering, const std::string& name, const BoxMm& box) {
    constexpr double smallest_on_one_line_pt = 15;
    const Type one_line = lettering.shrunk(name, {Face::bold, 20}, box.width, smallest_on_one_line_pt);
    if (lettering.width_mm(name, one_line) <= box.width + 0.01) {
        sheet.text(box.x, box.y + 7, name, one_line);
        return;
    }
    constexpr Type two_lines{Face::bold, 13};
    double baseline = box.y + 4.2;
    for (const auto& line : lettering.wrapped(name, two_lines, box.width, 2)) {
        sheet.text(box.x, baseline, line, two_lines);
        baseline += 5.3;
    }
}

void draw_header(Sheet& sheet, const Lettering& lettering, const Block& block, const BlockPage& page,
                 double x, double right, double y) {
    constexpr double number_box = 22;
    constexpr double tag_width = 36;
    const auto& part = *block.part;
    sheet.frame({x, y, number_box, number_box}, 0.8);
    sheet.text_around(x + number_box / 2, y + 4, "step", {Face::regular, 9});
    const std::string number = part.step == 0 ? "?" : std::to_string(part.step);
    const Type number_type = lettering.shrunk(number, {Face::bold, 40}, number_box - 3, 12);
    sheet.text_around(x + number_box / 2, y + 18, number, number_type);

    const auto& tag = part.file.part.tag;
    sheet.text_to_the_left_of(right, y + 11, std::to_string(tag.serial()), {Face::mono_bold, 34});
    sheet.text_to_the_left_of(right, y + 18, tag.text(), {Face::mono, 12});

    const double words_x = x + number_box + 4;
    const double words_width = right - tag_width - words_x;
    draw_name(sheet, lettering, block.name, {words_x, y, words_width, 11});
    sheet.text(words_x, y + 15.5, lettering.cut(block.goes_to, {Face::regular, 13}, words_width),
               {Face::regular, 13});
    sheet.text(words_x, y + 21.5,
               lettering.cut(page.first ? block.lies_in : "continued from the page before",
                             {Face::regular, 11}, words_width),
               {Face::regular, 11});
}

double draw_lines(Sheet& sheet, const std::vector<FactLine>& lines, double x, double y) {
    constexpr double tick_side = 4.6;
    for (const auto& line : lines) {
        y += line.space_above;
        const double height = line_height_mm(line.type);
        if (line.tick) {
            sheet.tick_box(x, y + (height - tick_side) / 2, tick_side, false);
        }
        sheet.text(x + line.indent, y + 0.76 * height, line.text, line.type);
        y += height;
    }
    return y;
}

double draw_cautions(Sheet& sheet, const Block& block, double x, double right, double y) {
    if (block.cautions.empty()) {
        return y;
    }
    const BoxMm box{x, y, right - x, height_of(block.cautions) + 2 * caution_inset};
    sheet.frame(box, 1);
    draw_lines(sheet, block.cautions, x + caution_inset, y + caution_inset);
    return box.bottom() + 2;
}

int draw_photo(Sheet& sheet, const Lettering& lettering, const PlacedPhoto& place,
               const RefitPictures& pictures, double x, double y, double most_width) {
    const SheetPicture& picture = pictures.of(*place.photo.photo);
    const BoxMm box{x, y, place.width, place.height};
    constexpr Type caption_type{Face::regular, 9};
    if (!picture.image) {
        sheet.frame(box, rule_mm);
        const std::string words =
            fmt::format("{} cannot be shown: {}", place.photo.photo->photo.number.text(), place.caption);
        double line_y = y + 6;
        for (const auto& line : lettering.wrapped(words, {Face::regular, 10}, box.width - 8, 3)) {
            sheet.text(x + 4, line_y, line, {Face::regular, 10});
            line_y += line_height_mm({Face::regular, 10});
        }
        return 0;
    }
    sheet.picture(*picture.image, box, place.photo.photo->photo.orientation);
    sheet.frame(box);
    sheet.text(x, box.bottom() + 4, lettering.cut(place.caption, caption_type, most_width), caption_type);
    return 1;
}

void draw_tick_row(Sheet& sheet, double x, double right, double y) {
    constexpr Type words{Face::bold, 13};
    constexpr Type small{Face::regular, 9};
    constexpr double side = 9;
    const double half = (right - x - column_gap) / 2;
    double at = x;
    for (const char* what : {"in place", "checked"}) {
        sheet.tick_box(at, y, side, false);
        sheet.text(at + side + 2, y + 6.5, what, words);
        const double line_x = at + side + 28;
        const double middle = line_x + (at + half - line_x) * 0.45;
        sheet.line(line_x, y + side - 1.5, middle - 2, y + side - 1.5, rule_mm);
        sheet.line(middle, y + side - 1.5, at + half, y + side - 1.5, rule_mm);
        sheet.text(line_x, y + side + 2, "initials", small);
        sheet.text(middle, y + side + 2, "date", small);
        at += half + column_gap;
    }
}

}  // namespace

Block plan_block(const RefitSheetPart& part, const RefitPictures& pictures, PrintableText& printable,
                 const Lettering& lettering, const BoxMm& page, bool in_inches) {
    const book::Part& record = part.file.part;
    Block block;
    block.part = &part;
    block.name = record.name.empty() ? "name not yet known" : printable(record.name, "name");
    block.goes_to = record.place.empty() ? "place not known: see the photos"
                                         : "Goes to: " + printable(record.place, "place");
    block.lies_in = record.storage.empty() ? "" : "Lies in: " + printable(record.storage, "storage");
    block.standing = standing_lines(part, printable, lettering, page.width);
    block.cautions = caution_lines(part, printable, lettering, page.width - 2 * caution_inset);

    const auto photos = photos_to_show(part);
    const bool two_columns = !photos.empty() && !part.notes.empty();
    const double facts_width = two_columns ? facts_column : page.width;
    block.facts_x = two_columns ? page.width - facts_column : 0;
    auto facts = lines_without(part, photos.empty(), page.width, lettering);
    const std::size_t lines_in_front = facts.size();
    for (auto& line : fact_lines(part, printable, lettering, facts_width, in_inches)) {
        line.space_above += facts.size() == lines_in_front && lines_in_front > 0 ? 3 : 0;
        facts.push_back(std::move(line));
    }
    const double photo_width = two_columns ? page.width - facts_column - column_gap : page.width;
    add_pages(block, photos, std::move(facts), pictures, printable, page, photo_width);
    const std::size_t left_out = photos_left_out(part);
    if (left_out > 0) {
        auto& caption = block.pages.front().photos.front().caption;
        caption += fmt::format("; {} more in the book: stripbook find {}", left_out, record.tag.serial());
    }
    return block;
}

int draw_block_page(Sheet& sheet, const Lettering& lettering, const Block& block, const BlockPage& page,
                    const RefitPictures& pictures, const BoxMm& body, double y) {
    const double bottom = y + page.height;
    draw_header(sheet, lettering, block, page, body.x, body.right(), y);
    y += header_height;
    if (page.first) {
        y = draw_lines(sheet, block.standing, body.x, y) + (block.standing.empty() ? 0 : 1.5);
        y = draw_cautions(sheet, block, body.x, body.right(), y);
    }
    draw_lines(sheet, page.facts, body.x + block.facts_x, y);
    int shown = 0;
    const double caption_width =
        block.facts_x > 0 && !page.facts.empty() ? block.facts_x - column_gap : body.width;
    for (const auto& photo : page.photos) {
        shown += draw_photo(sheet, lettering, photo, pictures, body.x, y, caption_width);
        y += photo.height + caption_height + gap;
    }
    if (page.last) {
        draw_tick_row(sheet, body.x, body.right(), bottom - tick_row_height + 0.5);
    } else {
        sheet.text_to_the_left_of(body.right(), bottom - 5, "goes on on the next page", {Face::bold, 11});
    }
    return shown;
}

}  // namespace stripbook::print
