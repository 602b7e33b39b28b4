#include "print/unsettled_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "print/caption.h"
#include "print/pdf_document.h"
#include "print/printable_text.h"
#include "print/report_flow.h"

namespace stripbook::print {

namespace {

constexpr double gap = 2;
constexpr double space_below_group = 5;
constexpr double number_baseline = 5;
constexpr double head_height = 7.5;
constexpr double label_height = 3.6;             // a photo's number below it
constexpr double thumbnail_height_share = 0.75;  // of its width
constexpr double suggestions_height = 21;
constexpr double tag_shot_width = 22;
constexpr double tag_shot_height = 17;
constexpr double answers_height = 7.5;
constexpr double command_height = 6;
constexpr double tick_side = 4;
constexpr std::size_t most_suggestions = 3;
const Type number_type{Face::bold, 13};
const Type title_type{Face::bold, 15};
const Type command_type{Face::mono, 8.5};

// How the thumbnails of a group stand: a few large ones, many small ones, and of very many the first and the
// last.
struct ThumbnailPlan {
    std::size_t columns = 5;
    std::vector<std::size_t> shown;  // indices into the group's photos
    std::size_t gap_at = 0;          // index into `shown` before which photos are left out
    std::size_t left_out = 0;
    double width = 0;

    [[nodiscard]] std::size_t cells() const { return shown.size() + (left_out > 0 ? 1 : 0); }
    [[nodiscard]] std::size_t rows() const { return (cells() + columns - 1) / columns; }
    [[nodiscard]] double picture_height() const { return width * thumbnail_height_share; }
    [[nodiscard]] double row_height() const { return picture_height() + label_height + 1; }
};

ThumbnailPlan plan_for(std::size_t photos, double width) {
    constexpr std::size_t few = 10;
    constexpr std::size_t many_columns = 8;
    constexpr std::size_t most_cells = 32;
    ThumbnailPlan plan;
    plan.columns = photos <= few ? 5 : many_columns;
    plan.width = (width + gap) / static_cast<double>(plan.columns) - gap;
    const std::size_t first = photos <= most_cells ? photos : most_cells / 2;
    const std::size_t last = photos <= most_cells ? 0 : most_cells / 2 - 1;
    for (std::size_t i = 0; i < photos; ++i) {
        if (i < first || i >= photos - last) {
            plan.shown.push_back(i);
        }
    }
    plan.gap_at = first;
    plan.left_out = photos - plan.shown.size();
    return plan;
}

// Draws one sheet after the other.
class SheetDrawing {
  public:
    SheetDrawing(PdfDocument& document, const Paper& paper,
                 const std::map<book::PhotoNumber, photo::PrintCopy>& copies, PrintableText& printable)
        : flow_(document, paper), copies_(copies), printable_(printable) {}

    void draw_title(std::size_t photos, std::size_t groups) {
        flow_.move_down(2);
        flow_.sheet().text(flow_.left(), flow_.y() + 4, "Which part is it?", title_type);
        flow_.move_down(8);
        flow_.paragraph(
            fmt::format("{} {} in {} {} for a person. Tick one box in each group, then enter it at the "
                        "computer, several groups in one go if you like:",
                        photos, photos == 1 ? "photo" : "photos", groups,
                        photos == 1   ? "group waits"
                        : groups == 1 ? "group wait"
                                      : "groups wait"),
            type::body, 3);
        flow_.move_down(1.5);
        flow_.sheet().text(flow_.left(), flow_.y() + 3, "stripbook settle 3 5-9 yes 4 b 7 apart",
                           command_type);
        flow_.move_down(5);
        flow_.paragraph(
            "yes takes suggestion a; b and c take the others; a tag's number names any part; none: it "
            "belongs to no part; apart: it is not one group (apart p31: the second begins with p31). A "
            "group's number is never given again, so this sheet stays true after later cards and "
            "decisions.",
            type::small, 4);
        flow_.move_down(3);
    }

    void draw(const GroupOnSheet& group) {
        const auto plan = plan_for(group.photos.size(), flow_.width());
        const auto why = flow_.lettering().wrapped(
            printable_(group.group.why, "reason of " + group.group.number.text(), "the book"), type::small,
            flow_.width(), 2);
        const double height = head_height + static_cast<double>(why.size()) * line_height_mm(type::small) +
                              1.5 + static_cast<double>(plan.rows()) * plan.row_height() +
                              suggestions_height + answers_height + command_height;
        flow_.reserve(height);
        flow_.sheet().line(flow_.left(), flow_.y(), flow_.right(), flow_.y(), rule_mm);
        draw_head(group);
        for (const auto& line : why) {
            flow_.sheet().text(flow_.left(), flow_.y() + 2.6, line, type::small);
            flow_.move_down(line_height_mm(type::small));
        }
        flow_.move_down(1.5);
        draw_thumbnails(group, plan);
        draw_suggestions(group);
        draw_answers(group);
        flow_.move_down(space_below_group);
    }

    void draw_running_words(const std::string& machine, const PackOptions& options) {
        auto& sheets = flow_.document().sheets();
        for (std::size_t i = 0; i < sheets.size(); ++i) {
            const double top = ReportFlow::margin_top + 3;
            const double foot = sheets[i].height() - ReportFlow::margin_bottom - 0.8;
            sheets[i].text(flow_.left(), top, "Photos that wait for a person", type::small_bold);
            sheets[i].text_to_the_left_of(flow_.right(), top,
                                          flow_.lettering().cut(machine, type::small, flow_.width() / 2),
                                          type::small);
            sheets[i].line(flow_.left(), top + 1.8, flow_.right(), top + 1.8);
            sheets[i].text(flow_.left(), foot,
                           fmt::format("made {} by stripbook {}", options.date, options.version),
                           type::small);
            sheets[i].text_to_the_left_of(flow_.right(), foot,
                                          fmt::format("page {} of {}", i + 1, sheets.size()), type::small);
        }
    }

  private:
    void draw_head(const GroupOnSheet& group) {
        Sheet& sheet = flow_.sheet();
        const std::string number = fmt::format("Group {}", group.group.number.value);
        sheet.text(flow_.left(), flow_.y() + number_baseline, number, number_type);
        const double x = flow_.left() + flow_.lettering().width_mm(number, number_type) + 4;
        const std::string camera =
            group.photos.empty() ? "" : printable_(group.photos.front().camera_words, "camera", "the book");
        const std::string taken = fmt::format("{}   {}", camera, time_span_words(group.photos));
        const double taken_width = flow_.lettering().width_mm(taken, type::small);
        sheet.text_to_the_left_of(flow_.right(), flow_.y() + number_baseline, taken, type::small);
        const std::string list = book::photo_list(group.group.photos);
        sheet.text(x, flow_.y() + number_baseline,
                   flow_.lettering().cut(list, type::body, flow_.right() - taken_width - 4 - x), type::body);
        flow_.move_down(head_height);
    }

    void draw_thumbnails(const GroupOnSheet& group, const ThumbnailPlan& plan) {
        std::size_t cell = 0;
        const auto next_box = [&] {
            const double column = static_cast<double>(cell % plan.columns);
            const double row = static_cast<double>(cell / plan.columns);
            ++cell;
            return BoxMm{flow_.left() + column * (plan.width + gap), flow_.y() + row * plan.row_height(),
                         plan.width, plan.picture_height()};
        };
        for (std::size_t k = 0; k < plan.shown.size(); ++k) {
            if (plan.left_out > 0 && k == plan.gap_at) {
                draw_words(next_box(), fmt::format("and {} more between", plan.left_out));
            }
            const book::Photo& photo = group.photos[plan.shown[k]];
            const BoxMm box = next_box();
            draw_picture(photo, box);
            flow_.sheet().text(box.x, box.bottom() + 2.8, photo.number.text(), type::small_bold);
        }
        flow_.move_down(static_cast<double>(plan.rows()) * plan.row_height());
    }

    void draw_words(const BoxMm& box, const std::string& words) {
        flow_.sheet().frame(box);
        double y = box.y + 1;
        for (const auto& line : flow_.lettering().wrapped(words, type::label, box.width - 2, 5)) {
            y += line_height_mm(type::label);
            flow_.sheet().text(box.x + 1, y, line, type::label);
        }
    }

    // As large as fits the box, in its middle, the right way up.
    void draw_picture(const book::Photo& photo, const BoxMm& box) {
        const auto found = copies_.find(photo.number);
        const auto* copy = found == copies_.end() ? nullptr : &found->second;
        const bool has_picture = copy != nullptr && !copy->jpeg.empty() && copy->width_px > 0;
        const auto image = has_picture ? flow_.document().add_jpeg(copy->jpeg) : std::nullopt;
        if (!image) {
            draw_words(box, printable_("cannot be shown: " +
                                           (copy == nullptr ? std::string("no copy of it") : copy->fault),
                                       "fault of " + photo.number.text(), "the book"));
            return;
        }
        constexpr int first_on_its_side = 5;  // EXIF orientations 5 to 8 swap the sides
        const bool video = photo.original.kind == book::FileKind::video;
        const int orientation = video ? 1 : photo.orientation;
        const bool on_its_side = orientation >= first_on_its_side;
        const double wide = on_its_side ? copy->height_px : copy->width_px;
        const double high = on_its_side ? copy->width_px : copy->height_px;
        const double scale = std::min(box.width / wide, box.height / high);
        const BoxMm fitted{box.x + (box.width - wide * scale) / 2, box.y + (box.height - high * scale) / 2,
                           wide * scale, high * scale};
        flow_.sheet().picture(*image, fitted, orientation);
        flow_.sheet().frame(fitted);
    }

    void draw_suggestions(const GroupOnSheet& group) {
        if (group.suggestions.empty()) {
            flow_.sheet().text(flow_.left(), flow_.y() + 4, "Nothing speaks for any part.", type::body);
            flow_.move_down(suggestions_height);
            return;
        }
        const double width = flow_.width() / static_cast<double>(most_suggestions);
        for (std::size_t i = 0; i < std::min(group.suggestions.size(), most_suggestions); ++i) {
            draw_suggestion(group.suggestions[i], flow_.left() + static_cast<double>(i) * width, width - gap);
        }
        flow_.move_down(suggestions_height);
    }

    void draw_suggestion(const SuggestionOnSheet& s, double x, double width) {
        Sheet& sheet = flow_.sheet();
        const double y = flow_.y();
        const double text_x = x + tick_side + 2;
        const double text_width = width - tick_side - 4 - (s.tag_shot ? tag_shot_width : 0);
        sheet.tick_box(x, y + 0.5, tick_side, false);
        sheet.text(text_x, y + 3.8, fmt::format("{}", s.suggestion.letter), type::body_bold);
        const Type tag_type =
            flow_.lettering().shrunk(s.suggestion.tag.text(), {Face::mono_bold, 8.5}, text_width - 4, 6);
        sheet.text(text_x + 4, y + 3.8, s.suggestion.tag.text(), tag_type);
        const std::string name =
            s.name.empty() ? "name not yet known"
                           : printable_(s.name, "name of " + s.suggestion.tag.text(), "the parts list");
        double line_y = y + 4.5;
        for (const auto& text : {name, chance_words(s.suggestion.chance)}) {
            for (const auto& line : flow_.lettering().wrapped(text, type::small, text_width, 2)) {
                line_y += line_height_mm(type::small);
                sheet.text(text_x, line_y, line, type::small);
            }
        }
        if (s.tag_shot) {
            draw_picture(*s.tag_shot, {x + width - tag_shot_width, y, tag_shot_width, tag_shot_height});
        }
    }

    void draw_answers(const GroupOnSheet& group) {
        Sheet& sheet = flow_.sheet();
        const double y = flow_.y();
        double x = flow_.left();
        const auto answer = [&](const std::string& words, double room) {
            sheet.tick_box(x, y, tick_side, false);
            sheet.text(x + tick_side + 2, y + 3.2, words, type::body);
            x += tick_side + 2 + flow_.lettering().width_mm(words, type::body) + 2;
            if (room > 0) {
                sheet.line(x, y + 4, x + room, y + 4);
            }
            x += room + 6;
        };
        answer("another part:", 32);
        answer("no part", 0);
        if (group.photos.size() > 1) {
            answer("not one group: cut before", 16);
        }
        flow_.move_down(answers_height);
        sheet.text(flow_.left(), flow_.y() + 3, fmt::format("stripbook settle {}", group.group.number.value),
                   command_type);
        const double command_x =
            flow_.left() + flow_.lettering().width_mm(
                               fmt::format("stripbook settle {} ", group.group.number.value), command_type);
        sheet.line(command_x, flow_.y() + 3.6, command_x + 42, flow_.y() + 3.6);
        sheet.text(command_x + 46, flow_.y() + 3, words_to_enter(group), type::label);
        flow_.move_down(command_height);
    }

    static std::string words_to_enter(const GroupOnSheet& group) {
        std::vector<std::string> words;
        for (std::size_t i = 0; i < std::min(group.suggestions.size(), most_suggestions); ++i) {
            const auto& suggestion = group.suggestions[i].suggestion;
            const bool is_yes = suggestion.letter == 'a' && suggestion.rank == 1;
            words.push_back(is_yes ? "yes" : std::string(1, suggestion.letter));
        }
        words.emplace_back("the tag's number");
        words.emplace_back("none");
        if (group.photos.size() > 1) {
            words.emplace_back("apart");
        }
        return fmt::format("{}", fmt::join(words, " / "));
    }

    ReportFlow flow_;
    const std::map<book::PhotoNumber, photo::PrintCopy>& copies_;
    PrintableText& printable_;
};

}  // namespace

std::string chance_words(const std::optional<double>& chance) {
    if (!chance) {
        return "suggested";
    }
    // Where a person would say so (common practice, no source).
    const char* word = *chance >= 0.9   ? "very likely"
                       : *chance >= 0.6 ? "likely"
                       : *chance >= 0.3 ? "possible"
                                        : "unlikely";
    return fmt::format("{}, about {} %", word, std::clamp(std::lround(*chance * 100), 1L, 99L));
}

std::string time_span_words(const std::vector<book::Photo>& photos) {
    if (photos.empty()) {
        return "";
    }
    const std::string first = time_for_people(photos.front().camera_time.text);
    const std::string last = time_for_people(photos.back().camera_time.text);
    constexpr std::size_t day_length = 11;  // "2026-03-20 "
    const bool one_day =
        first.size() > day_length && last.substr(0, day_length) == first.substr(0, day_length);
    return first == last ? first : fmt::format("{} to {}", first, one_day ? last.substr(day_length) : last);
}

Pack unsettled_sheet(const std::vector<GroupOnSheet>& groups,
                     const std::map<book::PhotoNumber, photo::PrintCopy>& copies, const std::string& machine,
                     const std::string& paper, const PackOptions& options) {
    const Lettering lettering;
    PrintableText printable(lettering, "the sheet");
    PdfDocument document(
        lettering, {"Photos that wait for a person", "", "", "stripbook " + options.version, options.date});
    SheetDrawing drawing(document, paper_named(paper), copies, printable);
    std::size_t photos = 0;
    for (const auto& group : groups) {
        photos += group.photos.size();
    }
    drawing.draw_title(photos, groups.size());
    for (const auto& group : groups) {
        drawing.draw(group);
    }
    drawing.draw_running_words(printable(machine, "title of the book", "the book"), options);
    Pack pack;
    pack.pages = static_cast<int>(document.sheets().size());
    pack.remarks = printable.remarks();
    pack.bytes = document.bytes();
    return pack;
}

}  // namespace stripbook::print
