#include "print/refit_sheet_drawing.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>

#include "print/characters.h"

namespace stripbook::print {

namespace {

constexpr double margin_left = 18;  ///< room for the holes of a ring binder
constexpr double margin_right = 12;
constexpr double body_top = 19;
constexpr double foot_height = 20;
constexpr double gap_between_parts = 6;
constexpr double overview_row = 8.5;
constexpr std::size_t most_in_a_title = 200;
constexpr const char* first_rule =
    "Local codes and licensed practice come before this sheet. Make loads, springs and pressure safe.";

std::string printed(const Lettering& lettering, const std::string& text) {
    PrintableText printable(lettering, "refit sheet");
    return printable(text, "title of the machine", "the book");
}

DocumentFacts facts_of(const Lettering& lettering, const RefitSheetWords& words) {
    return {first_characters("Refit sheet, " + words.what, most_in_a_title), "",
            first_characters(printed(lettering, words.machine), most_in_a_title), words.program, words.date};
}

}  // namespace

RefitSheetDrawing::RefitSheetDrawing(RefitSheetWords words, const Paper& paper, CopyMaker make_copies)
    : words_(std::move(words)),
      paper_(paper),
      document_(lettering_, facts_of(lettering_, words_)),
      pictures_(document_, std::move(make_copies)) {
    PrintableText printable(lettering_, "refit sheet");
    words_.machine = printable(words_.machine, "title of the machine", "the book");
    words_.what = printable(words_.what, "heading", "the command");
    keep_remarks(printable);
}

BoxMm RefitSheetDrawing::body() const {
    return {margin_left, body_top, paper_.width - margin_left - margin_right,
            paper_.height - body_top - foot_height};
}

void RefitSheetDrawing::new_page() {
    sheet_ = &document_.add_sheet(paper_.width, paper_.height);
    y_ = body_top;
}

void RefitSheetDrawing::keep_remarks(const PrintableText& printable) {
    for (const auto& remark : printable.remarks()) {
        if (std::find(remarks_.begin(), remarks_.end(), remark) == remarks_.end()) {
            remarks_.push_back(remark);
        }
    }
}

void RefitSheetDrawing::draw_overview_line(const OverviewLine& line, double y) {
    PrintableText printable(lettering_, line.part.tag.text());
    const BoxMm box = body();
    const double baseline = y + 5.6;
    constexpr Type bold{Face::bold, 12};
    constexpr Type plain{Face::regular, 11};
    const double name_x = box.x + 46;
    const double place_x = box.x + box.width * 0.62;
    const double page_x = box.right() - 14;
    sheet_->tick_box(box.x, y + 1.2, 5.5, false);
    sheet_->text_to_the_left_of(box.x + 21, baseline, line.step == 0 ? "?" : std::to_string(line.step), bold);
    sheet_->text_to_the_left_of(box.x + 42, baseline, std::to_string(line.part.tag.serial()),
                                {Face::mono_bold, 12});
    const std::string name =
        line.part.name.empty() ? "name not yet known" : printable(line.part.name, "name");
    sheet_->text(name_x, baseline, lettering_.cut(name, plain, place_x - name_x - 3), plain);
    sheet_->text(place_x, baseline,
                 lettering_.cut(printable(line.part.place, "place"), plain, page_x - place_x - 3), plain);
    sheet_->line(box.x, y + overview_row - 0.4, box.right(), y + overview_row - 0.4);
    overview_[line.part.tag] = {document_.sheets().size() - 1, box.right(), baseline};
}

void RefitSheetDrawing::add_overview(const std::vector<OverviewLine>& lines) {
    const BoxMm box = body();
    for (const auto& line : lines) {
        if (sheet_ == nullptr || y_ + overview_row > box.bottom()) {
            new_page();
            constexpr Type label{Face::regular, 9};
            sheet_->text(box.x + 12, y_ + 3.5, "step", label);
            sheet_->text_to_the_left_of(box.x + 42, y_ + 3.5, "tag", label);
            sheet_->text(box.x + 46, y_ + 3.5, "part", label);
            sheet_->text(box.x + box.width * 0.62, y_ + 3.5, "goes to", label);
            sheet_->text_to_the_left_of(box.right(), y_ + 3.5, "page", label);
            y_ += 5;
        }
        draw_overview_line(line, y_);
        y_ += overview_row;
    }
    if (!lines.empty()) {
        document_.add_bookmark("Steps on this sheet", document_.sheets().front(), body_top, nullptr);
    }
    sheet_ = nullptr;  // the steps begin on a page of their own
}

void RefitSheetDrawing::draw_pages_of(const Block& block, const std::string& tag_and_name) {
    const BoxMm box = body();
    for (const auto& page : block.pages) {
        if (sheet_ == nullptr || y_ + page.height > box.bottom() + 0.01) {
            new_page();
        }
        if (y_ > body_top) {
            sheet_->line(box.x, y_ - gap_between_parts / 2, box.right(), y_ - gap_between_parts / 2, 0.8);
        }
        if (page.first) {
            page_of_[block.part->file.part.tag] = document_.sheets().size();
            const std::string step = block.part->step == 0 ? "no step" : fmt::format("{}", block.part->step);
            document_.add_bookmark(
                first_characters(fmt::format("{}  {}", step, tag_and_name), most_in_a_title), *sheet_, y_,
                nullptr);
        }
        photos_shown_ += draw_block_page(*sheet_, lettering_, block, page, pictures_, box, y_);
        y_ += page.height + gap_between_parts;
    }
}

void RefitSheetDrawing::add_step(const std::vector<RefitSheetPart>& parts) {
    std::vector<Block> blocks;
    double together = -gap_between_parts;
    bool fits_on_one = true;
    for (const auto& part : parts) {
        PrintableText printable(lettering_, part.file.part.tag.text());
        pictures_.load(photos_to_show(part));
        blocks.push_back(plan_block(part, pictures_, printable, lettering_, body(), words_.in_inches));
        keep_remarks(printable);
        together += blocks.back().pages.front().height + gap_between_parts;
        fits_on_one = fits_on_one && blocks.back().pages.size() == 1;
    }
    if (fits_on_one && together <= body().height && sheet_ != nullptr && y_ + together > body().bottom()) {
        new_page();
    }
    for (const auto& block : blocks) {
        draw_pages_of(block, fmt::format("{} {}", block.part->file.part.tag.text(), block.name));
    }
}

void RefitSheetDrawing::draw_head_and_foot(Sheet& sheet, std::size_t page, std::size_t pages) const {
    const BoxMm box = body();
    constexpr Type bold{Face::bold, 10};
    constexpr Type small{Face::regular, 8};
    const std::string number = fmt::format("page {} of {}", page, pages);
    const std::string head = fmt::format("Refit sheet: {}", words_.what);
    const double head_width = box.width * 0.55;
    sheet.text(box.x, 12, lettering_.cut(head, bold, head_width), bold);
    sheet.text_to_the_left_of(box.right(), 12, number, bold);
    const double middle_x = box.x + head_width + 3;
    const double middle_width = box.right() - lettering_.width_mm(number, bold) - 3 - middle_x;
    sheet.text(middle_x, 12, lettering_.cut(words_.machine, {Face::regular, 10}, middle_width),
               {Face::regular, 10});
    sheet.line(box.x, 14.5, box.right(), 14.5, rule_mm);

    const double foot = paper_.height - 13;
    sheet.line(box.x, foot - 4.5, box.right(), foot - 4.5, rule_mm);
    sheet.text(box.x, foot, first_rule, lettering_.shrunk(first_rule, {Face::bold, 10}, box.width, 7));
    sheet.text(box.x, foot + 4,
               fmt::format("made {} by {}; what was said later is in the book", words_.date, words_.program),
               small);
}

DrawnRefitSheet RefitSheetDrawing::finish() {
    for (const auto& [tag, place] : overview_) {
        const auto page = page_of_.find(tag);
        if (page != page_of_.end()) {
            document_.sheets()[place.sheet].text_to_the_left_of(
                place.right, place.baseline, std::to_string(page->second), {Face::regular, 11});
        }
    }
    auto& sheets = document_.sheets();
    for (std::size_t i = 0; i < sheets.size(); ++i) {
        draw_head_and_foot(sheets[i], i + 1, sheets.size());
    }
    return {document_.bytes(), static_cast<int>(sheets.size()), photos_shown_, remarks_};
}

}  // namespace stripbook::print
