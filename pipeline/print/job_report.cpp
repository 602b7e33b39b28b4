#include "print/job_report.h"

#include <fmt/format.h>

#include <algorithm>
#include <utility>
#include <vector>

#include "book/parts_tree.h"
#include "print/characters.h"
#include "print/document_facts.h"
#include "print/donor_copy.h"
#include "print/job_front.h"
#include "print/job_gathering.h"
#include "print/joined_pdf.h"
#include "print/part_content.h"
#include "print/part_pages.h"
#include "print/photo_copies.h"
#include "print/printable_text.h"
#include "print/report_drawing.h"
#include "print/report_file.h"

namespace stripbook::print {

namespace {

// libharu holds a document with all its pictures, and once more while it is written.
constexpr std::size_t most_bytes_of_a_piece = 24U << 20U;

DocumentFacts facts_of(const JobContent& content, const Lettering& lettering) {
    PrintableText printable(lettering, content.book_code);
    const auto cut = [&](const std::string& text, const char* what) {
        return first_characters(printable(text, what, "the book"), most_in_a_title);
    };
    DocumentFacts facts;
    facts.title = cut(title_of(content), "assembly");
    facts.author = content.workshop.empty() ? "" : cut(content.workshop, "workshop");
    facts.subject = fmt::format("{} ({})", cut(content.machine, "title of the machine"), content.book_code);
    facts.program = content.program;
    facts.date = content.date;
    return facts;
}

// The parts drawn one after another, in pieces on disk.
class PartsDrawn {
  public:
    PartsDrawn(const Lettering& lettering, DocumentFacts facts, std::filesystem::path folder,
               std::size_t pages_before)
        : lettering_(lettering), facts_(std::move(facts)), folder_(std::move(folder)), pages_(pages_before) {}

    /// Returns the part's first page.
    std::size_t draw(const ReportContent& content, const Paper& paper) {
        if (!document_) {
            document_.emplace(lettering_, facts_);
            pages_of_pieces_ = pages_;
        }
        const std::size_t first = pages_;
        PartPages drawn = draw_part(content, *document_, paper, pages_of_pieces_);
        pages_ += drawn.pages;
        photos_ += drawn.photos;
        for (auto& bookmark : drawn.bookmarks) {
            bookmark.page += pages_of_pieces_;
            bookmarks_.push_back(std::move(bookmark));
        }
        remarks_.insert(remarks_.end(), drawn.remarks.begin(), drawn.remarks.end());
        if (document_->picture_bytes() > most_bytes_of_a_piece) {
            end_piece();
        }
        return first;
    }

    void end_piece() {
        if (document_) {
            unicode_ |= document_->uses_unicode();
            pieces_.emplace_back(*document_, folder_);
            document_.reset();
        }
    }

    [[nodiscard]] std::size_t pages() const { return pages_; }
    [[nodiscard]] int photos() const { return photos_; }
    [[nodiscard]] bool uses_unicode() const { return unicode_; }
    [[nodiscard]] const std::vector<Bookmark>& bookmarks() const { return bookmarks_; }
    [[nodiscard]] const std::vector<std::string>& remarks() const { return remarks_; }
    std::vector<PdfPiece> take_pieces() { return std::move(pieces_); }

  private:
    const Lettering& lettering_;
    DocumentFacts facts_;
    std::filesystem::path folder_;
    std::size_t pages_;                ///< of the whole document so far
    std::size_t pages_of_pieces_ = 0;  ///< of it, before the piece that is being drawn
    std::optional<PdfDocument> document_;
    std::vector<PdfPiece> pieces_;
    std::vector<Bookmark> bookmarks_;
    std::vector<std::string> remarks_;
    int photos_ = 0;
    bool unicode_ = false;
};

// Draws the pages before the parts only to see how many there are, and where their sections begin.
std::size_t pages_of_front(JobContent& content, const Lettering& lettering, const DocumentFacts& facts,
                           const Paper& paper) {
    PdfDocument trial(lettering, facts);
    for (const auto& bookmark : draw_front(content, trial, paper).bookmarks) {
        content.section_pages[bookmark.title] = bookmark.page;
    }
    return trial.sheets().size();
}

// Parts whose photos are made ready in one go.
constexpr std::size_t parts_at_once = 50;

void draw_parts(const book::Book& book, JobContent& content, PartsDrawn& drawn, const Paper& paper,
                const JobReportOptions& options) {
    ReportOptions these = options.report;
    these.with_forms = false;  // a report of many is read, not filled in
    auto& parts = content.parts;
    for (std::size_t from = 0; from < parts.size(); from += parts_at_once) {
        std::vector<book::PartFile> files;
        for (std::size_t i = from; i < std::min(parts.size(), from + parts_at_once); ++i) {
            auto file = book::gather_part(book, parts[i].part.tag);
            files.push_back(options.report.for_donor ? donor_copy(std::move(file), options.report.with_costs)
                                                     : std::move(file));
        }
        keep_copies_for_paper(book, files, paper, these.dots_per_inch, these.stop);
        for (std::size_t i = 0; i < files.size(); ++i) {
            parts[from + i].page = drawn.draw(content_of(book, files[i], paper, these), paper);
            if (options.progress) {
                options.progress(from + i + 1, parts.size());
            }
        }
    }
    drawn.end_piece();
}

// Parts stand below their assembly; each level of it once.
std::vector<Bookmark> all_bookmarks(const JobContent& content, const JobFront& front,
                                    const std::vector<Bookmark>& of_parts) {
    std::vector<Bookmark> all = front.bookmarks;
    std::vector<std::string> before;
    auto part = content.parts.begin();
    int level = 0;
    for (const auto& bookmark : of_parts) {
        if (bookmark.level == 0) {
            auto levels = book::assembly_levels((part++)->part.assembly);
            if (levels.empty()) {
                levels = {"No assembly told"};
            }
            std::size_t same = 0;
            while (same < levels.size() && same < before.size() && levels[same] == before[same]) {
                ++same;
            }
            for (std::size_t i = same; i < levels.size(); ++i) {
                all.push_back({first_characters(levels[i], most_in_a_title), static_cast<int>(i),
                               bookmark.page, bookmark.y});
            }
            level = static_cast<int>(levels.size());
            before = std::move(levels);
        }
        all.push_back({bookmark.title, level + bookmark.level, bookmark.page, bookmark.y});
    }
    return all;
}

}  // namespace

ReportResult write_job_report(const book::Book& book, const std::filesystem::path& out,
                              const JobReportOptions& options) {
    const Paper paper = options.report.letter ? Paper::us_letter() : Paper::a4();
    const Lettering lettering;
    JobContent content = job_content_of(book, options, paper);
    const DocumentFacts facts = facts_of(content, lettering);
    const auto folder = folder_of(out);
    PartsDrawn drawn(lettering, facts, folder, pages_of_front(content, lettering, facts, paper));
    draw_parts(book, content, drawn, paper, options);

    PdfDocument front_document(lettering, facts);
    const JobFront front = draw_front(content, front_document, paper);
    const bool unicode = drawn.uses_unicode() || front_document.uses_unicode();
    std::vector<PdfPiece> pieces;
    pieces.emplace_back(front_document, folder);
    for (auto& piece : drawn.take_pieces()) {
        pieces.push_back(std::move(piece));
    }
    ReportResult result{out, static_cast<int>(drawn.pages()), drawn.photos(), front.remarks,
                        why_not_archival(unicode)};
    result.remarks.insert(result.remarks.end(), drawn.remarks().begin(), drawn.remarks().end());
    write_joined(pieces,
                 {facts, all_bookmarks(content, front, drawn.bookmarks()), front.links, 1,
                  result.why_not_archival.empty()},
                 out);
    return result;
}

}  // namespace stripbook::print
