// The sections of the condition report, in their order on paper. Each draws itself where the flow stands.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "print/bookmark.h"
#include "print/printable_text.h"
#include "print/report_content.h"
#include "print/report_flow.h"

namespace stripbook::print {

/// What a section draws with.
struct ReportDesk {
    const ReportContent& content;
    ReportFlow& flow;
    PrintableText& printable;
    std::vector<Bookmark> bookmarks{};
    int photos_shown = 0;
    /// Photos that are in the document already, so that none is in it twice.
    std::map<book::PhotoNumber, std::optional<HPDF_Image>> images{};

    [[nodiscard]] const book::Part& part() const { return content.part_file.part; }
    [[nodiscard]] std::string tag() const { return part().tag.text(); }
    /// The part's name, or that it has none.
    [[nodiscard]] std::string name() const;
    /// The photo's copy as an image of the document; nothing where there is none, or libharu cannot take it.
    std::optional<HPDF_Image> image_of(book::PhotoNumber photo);
};

/// A section begins: heading, and a bookmark to it. `mm`: what must stand with the heading on one page.
void begin_section(ReportDesk& desk, std::string_view words, double mm);

/// Machine, tag number with QR code, name, place, storage, quantities.
void draw_identity(ReportDesk& desk);
/// The as-removed photos, large.
void draw_as_removed(ReportDesk& desk);
/// How the part looked at one stage, beside how it looked at the next.
void draw_before_and_after(ReportDesk& desk);
/// The other photos, two by two, and the videos by their picture, or by name.
void draw_details(ReportDesk& desk);
/// Dimensions measured from photos, each beside the photo they were drawn on.
void draw_dimensions(ReportDesk& desk);
/// A heading within a section, kept together with the `mm` that follow it.
void small_heading(ReportFlow& flow, std::string_view words, double mm);
/// What was found, beside its photos; or a form to fill in.
void draw_findings(ReportDesk& desk);
/// Gauge readings with their judgement, and rows to write in.
void draw_gauge_readings(ReportDesk& desk);
/// Cautions, condition, findings, gauge readings, path.
void draw_condition_and_path(ReportDesk& desk);
/// Before the history, so that it stands close to the decision and never alone on a page.
void draw_sign_off(ReportDesk& desk);
/// Notes of the parts list.
void draw_notes(ReportDesk& desk);
/// The last changes of the record.
void draw_history(ReportDesk& desk);

/// The longest side, in mm, that each photo of the part can get on paper, in the order of the part's photos.
std::vector<double> longest_sides_mm(const book::PartFile& part_file, const Paper& paper);

}  // namespace stripbook::print
