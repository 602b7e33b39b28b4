#include "print/contact_sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <utility>

#include "errors.h"
#include "print/caption.h"
#include "print/characters.h"
#include "print/joined_pdf.h"
#include "print/photo_copies.h"
#include "print/printable_text.h"
#include "print/report_drawing.h"
#include "print/report_file.h"
#include "print/report_flow.h"

namespace stripbook::print {

namespace {

constexpr std::size_t columns = 4;
constexpr double gap = 3;
constexpr double picture_height = 31;  // three quarters of the width
constexpr double caption_height = 8;
constexpr double row_height = picture_height + caption_height + 2;
constexpr double head_height = 11;
constexpr std::size_t most_bytes_of_a_piece = 24U << 20U;
constexpr std::size_t photos_at_once = 200;

using Copies = std::map<book::PhotoNumber, photo::PrintCopy>;

// Pages as they fill, one document after the other on disk.
class ContactDrawing {
  public:
    ContactDrawing(const book::Book& book, const ContactSheetOptions& options, std::filesystem::path folder)
        : book_(book),
          options_(options),
          folder_(std::move(folder)),
          paper_(options.letter ? Paper::us_letter() : Paper::a4()),
          printable_(lettering_, "the contact sheet") {
        facts_ = {"Contact sheet: " +
                      first_characters(printable_(options.what, "words", "the command"), most_in_a_title),
                  "", "", "stripbook " + options.version, options.date};
    }

    void begin_part(const book::Part& part, std::size_t photos) {
        end_row();
        piece_if_large();
        flow().reserve(head_height + row_height);
        bookmarks_.push_back({part.tag.text() + " " + first_characters(name_of(part), most_in_a_title), 0,
                              pages_before_ + flow().page(), flow().y()});
        draw_head(part, photos, "");
        part_ = &part;
        photos_of_part_ = photos;
    }

    void draw(const book::PartPhoto& photo, const Copies& copies) {
        if (column_ == 0 && flow().left_on_page() < row_height) {
            flow().new_page();
            draw_head(*part_, photos_of_part_, ", continued");
        }
        const BoxMm box{flow().left() + static_cast<double>(column_) * (cell_width() + gap), flow().y(),
                        cell_width(), picture_height};
        draw_picture(photo, box, copies);
        draw_caption(photo, box);
        if (++column_ == columns) {
            end_row();
        }
    }

    ContactSheetResult write(const std::filesystem::path& out) {
        end_row();
        end_piece();
        write_joined(pieces_, {facts_, bookmarks_, {}, 1, why_not_archival(unicode_).empty()}, out);
        return {out, static_cast<int>(pages_before_), shown_, printable_.remarks()};
    }

  private:
    ReportFlow& flow() {
        if (!flow_) {
            document_.emplace(lettering_, facts_);
            flow_.emplace(*document_, paper_);
        }
        return *flow_;
    }

    [[nodiscard]] double cell_width() { return (flow().width() + gap) / static_cast<double>(columns) - gap; }

    std::string name_of(const book::Part& part) {
        return part.name.empty() ? "name not yet known" : printable_(part.name, "name of " + part.tag.text());
    }

    void end_row() {
        if (column_ > 0) {
            flow().move_down(row_height);
            column_ = 0;
        }
    }

    void draw_head(const book::Part& part, std::size_t photos, const char* continued) {
        Sheet& sheet = flow().sheet();
        const double y = flow().y() + 4;
        sheet.line(flow().left(), flow().y(), flow().right(), flow().y(), rule_mm);
        const Type tag_type{Face::mono_bold, 10};
        sheet.text(flow().left(), y, part.tag.text(), tag_type);
        const double name_left = flow().left() + lettering_.width_mm(part.tag.text(), tag_type) + 3;
        const std::string count = fmt::format("{} {}{}", photos, photos == 1 ? "photo" : "photos", continued);
        sheet.text_to_the_left_of(flow().right(), y, count, type::small);
        sheet.text(name_left, y,
                   lettering_.cut(name_of(part), type::body_bold, flow().right() - name_left - 40),
                   type::body_bold);
        std::string where;
        for (const auto& [text, field] : {std::pair(part.assembly, "assembly"), {part.place, "place"}}) {
            if (!text.empty()) {
                where += (where.empty() ? "" : "; ") + printable_(text, field);
            }
        }
        sheet.text(flow().left(), y + 4, lettering_.cut(where, type::small, flow().width()), type::small);
        flow().move_down(head_height);
    }

    void draw_picture(const book::PartPhoto& photo, const BoxMm& box, const Copies& copies) {
        const auto copy = copies.find(photo.photo.number);
        const bool drawable = copy != copies.end() && copy->second.width_px > 0;
        const auto image =
            drawable ? flow().document().add_jpeg(copy->second.jpeg) : std::optional<HPDF_Image>();
        if (!image) {
            draw_note(photo, box, copy == copies.end() ? "no picture" : copy->second.fault);
            return;
        }
        const bool video = photo.photo.original.kind == book::FileKind::video;
        const int orientation = video ? 1 : photo.photo.orientation;
        const bool on_its_side = orientation >= 5 && orientation <= 8;
        const double wide = on_its_side ? copy->second.height_px : copy->second.width_px;
        const double high = on_its_side ? copy->second.width_px : copy->second.height_px;
        const double scale = std::min(box.width / wide, box.height / high);
        const BoxMm fitted{box.x, box.bottom() - high * scale, wide * scale, high * scale};
        flow().sheet().picture(*image, fitted, orientation);
        flow().sheet().frame(fitted);
        ++shown_;
    }

    void draw_note(const book::PartPhoto& photo, const BoxMm& box, const std::string& fault) {
        constexpr std::size_t most_lines = 6;
        flow().sheet().frame(box);
        double y = box.y + 1;
        const std::string why = printable_(fault, "fault of " + photo.photo.number.text(), "the book");
        for (const auto& line :
             lettering_.wrapped("cannot be shown: " + why, type::label, box.width - 3, most_lines)) {
            y += line_height_mm(type::label);
            flow().sheet().text(box.x + 1.5, y, line, type::label);
        }
    }

    void draw_caption(const book::PartPhoto& photo, const BoxMm& box) {
        Sheet& sheet = flow().sheet();
        const double y = box.bottom() + 3;
        const std::string number = photo.photo.number.text();
        sheet.text(box.x, y, number, type::small_bold);
        const double left = box.x + lettering_.width_mm(number, type::small_bold) + 1.5;
        sheet.text(left, y,
                   lettering_.cut(photo.stage.empty() ? "stage not known" : photo.stage, type::small,
                                  box.right() - left),
                   type::small);
        constexpr std::size_t to_minutes = 16;
        sheet.text(box.x, y + 3.2, time_for_people(photo.photo.corrected_seconds).substr(0, to_minutes),
                   type::label);
    }

    void piece_if_large() {
        if (document_ && document_->picture_bytes() > most_bytes_of_a_piece) {
            end_piece();
        }
    }

    void end_piece() {
        if (!document_) {
            return;
        }
        flow_->finish({.kind = "Contact sheet",
                       .machine = printable_(book_.title(), "title of the machine", "the book"),
                       .tag = book_.code().text(),
                       .name = printable_(options_.what, "words", "the command"),
                       .program = facts_.program,
                       .date = facts_.date},
                      pages_before_);
        pages_before_ += document_->sheets().size();
        unicode_ |= document_->uses_unicode();
        pieces_.emplace_back(*document_, folder_);
        flow_.reset();
        document_.reset();
    }

    const book::Book& book_;
    const ContactSheetOptions& options_;
    std::filesystem::path folder_;
    const Lettering lettering_;
    Paper paper_;
    PrintableText printable_;
    DocumentFacts facts_;
    std::optional<PdfDocument> document_;
    std::optional<ReportFlow> flow_;
    std::vector<PdfPiece> pieces_;
    std::vector<Bookmark> bookmarks_;
    const book::Part* part_ = nullptr;
    std::size_t photos_of_part_ = 0;
    std::size_t column_ = 0;
    std::size_t pages_before_ = 0;
    int shown_ = 0;
    bool unicode_ = false;
};

// The small copies of the photos to come, a batch at a time.
class Batches {
  public:
    Batches(const book::Book& book, const std::vector<book::PartFile>& files,
            const ContactSheetOptions& options)
        : book_(book), options_(options) {
        for (const auto& file : files) {
            for (const auto& photo : file.photos) {
                photos_.push_back(&photo.photo);
            }
        }
    }
    [[nodiscard]] std::size_t size() const { return photos_.size(); }

    /// The copies among which that of the next photo is.
    const Copies& next() {
        if (at_ % photos_at_once == 0) {
            std::vector<book::Photo> batch;
            for (std::size_t i = at_; i < std::min(photos_.size(), at_ + photos_at_once); ++i) {
                batch.push_back(*photos_[i]);
            }
            const std::size_t before = at_;
            copies_ = small_copies(
                book_, batch, contact_picture_mm,
                [&](std::size_t done, std::size_t) {
                    if (options_.progress) {
                        options_.progress(before + done, photos_.size());
                    }
                },
                options_.stop);
        }
        ++at_;
        return copies_;
    }

  private:
    const book::Book& book_;
    const ContactSheetOptions& options_;
    std::vector<const book::Photo*> photos_;
    std::size_t at_ = 0;
    Copies copies_;
};

}  // namespace

ContactSheetResult write_contact_sheet(const book::Book& book, const std::vector<book::PartFile>& files,
                                       const std::filesystem::path& out, const ContactSheetOptions& options) {
    Batches batches(book, files, options);
    if (batches.size() == 0) {
        throw WrongUse("there is no photo for the contact sheet");
    }
    ContactDrawing drawing(book, options, folder_of(out));
    for (const auto& file : files) {
        if (file.photos.empty()) {
            continue;
        }
        drawing.begin_part(file.part, file.photos.size());
        for (const auto& photo : file.photos) {
            drawing.draw(photo, batches.next());
        }
    }
    return drawing.write(out);
}

}  // namespace stripbook::print
