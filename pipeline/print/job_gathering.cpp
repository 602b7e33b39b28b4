#include "print/job_gathering.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/parts.h"
#include "book/parts_tree.h"
#include "book/photos.h"
#include "book/settings.h"
#include "errors.h"
#include "print/photo_choice.h"
#include "print/photo_copies.h"
#include "print/report_flow.h"
#include "print/report_order.h"

namespace stripbook::print {

namespace {

bool is_within(const std::string& assembly, const std::string& whole) {
    return whole.empty() || book::lies_within(assembly, whole);
}

std::vector<book::Part> parts_within(const book::Book& book, const std::string& assembly) {
    auto parts = book::all_parts(book);
    std::erase_if(parts, [&](const book::Part& part) { return !is_within(part.assembly, assembly); });
    if (parts.empty()) {
        throw WrongUse(
            assembly.empty()
                ? std::string("the book has no parts yet; bring in the parts list or dump a card")
                : fmt::format("no part lies in the assembly \"{}\"; see stripbook parts list", assembly));
    }
    sort_for_report(parts);
    return parts;
}

JobPart job_part(const book::PartFile& file) {
    JobPart part(file.part);
    part.stage = book::latest_stage(file);
    part.photos = static_cast<std::size_t>(std::count_if(
        file.photos.begin(), file.photos.end(),
        [](const book::PartPhoto& photo) { return photo.photo.original.kind != book::FileKind::video; }));
    part.findings = static_cast<std::size_t>(
        std::count_if(file.inspection.findings.begin(), file.inspection.findings.end(),
                      [](const book::Finding& finding) { return finding.entry.stands(); }));
    part.hazards = file.hazards;
    return part;
}

std::string caption_of_cover(const book::Photo& photo, const std::string& of_what) {
    return photo.number.text() + (of_what.empty() ? "" : "  " + of_what);
}

// Remembers the part with most as-removed photos, whose first one is shown.
class CoverChoice {
  public:
    void look_at(const book::PartFile& file) {
        const auto sorted = sorted_photos(file);
        if (sorted.stage_known && sorted.large.size() > most_) {
            most_ = sorted.large.size();
            photo_ = sorted.large.front()->photo;
            words_ = fmt::format("{} {}, as removed", file.part.tag.text(), file.part.name);
        }
    }
    void set(const book::Photo& photo) {
        photo_ = photo;
        words_.clear();
    }
    [[nodiscard]] std::optional<Cover> cover(const book::Book& book, double side_mm, double dots) const {
        if (!photo_) {
            return std::nullopt;
        }
        auto copy = copy_for_paper(book, *photo_, side_mm, dots);
        if (copy.jpeg.empty() || copy.width_px == 0 || copy.height_px == 0) {
            return std::nullopt;
        }
        return Cover{std::move(copy), photo_->orientation, caption_of_cover(*photo_, words_)};
    }

  private:
    std::size_t most_ = 0;
    std::optional<book::Photo> photo_;
    std::string words_;
};

book::Photo typed_cover(const book::Book& book, book::PhotoNumber number) {
    const auto photo = book::find_photo(book, number);
    if (!photo) {
        throw WrongUse(fmt::format("the book has no photo {}; name another with --cover", number.text()));
    }
    return *photo;
}

void keep_within(JobContent& content, const std::string& assembly) {
    std::erase_if(content.completeness,
                  [&](const book::Completeness& kind) { return !is_within(kind.assembly, assembly); });
    std::erase_if(content.sums,
                  [&](const book::AssemblySum& sum) { return !is_within(sum.assembly, assembly); });
}

}  // namespace

JobContent job_content_of(const book::Book& book, const JobReportOptions& options, const Paper& paper) {
    JobContent content;
    content.machine = book.title();
    content.book_code = book.code().text();
    content.workshop = book::setting(book, "workshop");
    content.assembly = options.assembly;
    content.date = options.report.date;
    content.program = "stripbook " + options.report.version;
    content.currency = book::setting(book, "currency");
    content.for_donor = options.report.for_donor;
    content.with_costs = !options.report.for_donor || options.report.with_costs;
    CoverChoice cover;
    for (const auto& part : parts_within(book, options.assembly)) {
        const auto file = book::gather_part(book, part.tag);
        content.parts.push_back(job_part(file));
        cover.look_at(file);
    }
    if (options.cover) {
        cover.set(typed_cover(book, *options.cover));
    }
    content.cover = cover.cover(book, paper.width - ReportFlow::margin_left - ReportFlow::margin_right,
                                options.report.dots_per_inch);
    content.completeness = book::completeness(book);
    content.sums = book::path_overview(book, 0).sums;
    keep_within(content, options.assembly);
    return content;
}

}  // namespace stripbook::print
