// One PDF being made with libharu: its life, its errors, its facts, its pages, pictures and bookmarks.
// libharu reports errors through a callback that must not throw through its C frames: it is recorded, and
// thrown here after the call.
#pragma once

#include <hpdf.h>

#include <array>
#include <deque>
#include <filesystem>
#include <memory>
#include <optional>
#include <string>

#include "print/lettering.h"
#include "print/sheet.h"

namespace stripbook::print {

struct DocumentFacts {
    std::string title;
    std::string author;   ///< may be empty
    std::string subject;  ///< may be empty
    std::string program;  ///< "stripbook 0.1.0"
    std::string date;     ///< "2026-11-25": made and changed, at midnight UTC
};

class PdfDocument {
  public:
    /// Throws WrongUse when the date is no date, OutsideError when libharu refuses.
    PdfDocument(const Lettering& lettering, const DocumentFacts& facts);
    PdfDocument(const PdfDocument&) = delete;
    PdfDocument& operator=(const PdfDocument&) = delete;
    ~PdfDocument();

    /// Asks the viewer to print without scaling and to open without a side panel: for pages that are cut to
    /// size.
    void print_at_true_size();

    /// A new last page. The reference stays good.
    Sheet& add_sheet(double width, double height);
    [[nodiscard]] std::deque<Sheet>& sheets() { return sheets_; }

    /// A JPEG, baseline or progressive, grey or YCbCr. Nothing when libharu cannot take it.
    std::optional<HPDF_Image> add_jpeg(const std::string& bytes);

    /// A bookmark to a height on a page; `parent` null: at the top.
    HPDF_Outline add_bookmark(const std::string& title, const Sheet& sheet, double y, HPDF_Outline parent);

    /// The whole file.
    std::string bytes();
    /// The same, written to `file`, which saves memory. Throws OutsideError.
    void save(const std::filesystem::path& file);

    /// Whether a character outside Windows code page 1252 was drawn.
    [[nodiscard]] bool uses_unicode() const { return uses_unicode_; }
    /// Bytes of all pictures so far.
    [[nodiscard]] std::size_t picture_bytes() const { return picture_bytes_; }

    /// The font for a face in one of the two encodings, made on first use.
    HPDF_Font font(Face face, bool unicode);

    /// Throws OutsideError when libharu has reported an error since the last check.
    void check();

    [[nodiscard]] const Lettering& lettering() const { return lettering_; }

  private:
    void set_facts(const DocumentFacts& facts);

    const Lettering& lettering_;
    HPDF_STATUS error_ = 0;  ///< the first since the last check
    HPDF_Doc doc_ = nullptr;
    std::array<const char*, face_count> loaded_{};  ///< libharu's name of each face that is in use
    std::deque<Sheet> sheets_;
    bool uses_unicode_ = false;
    std::size_t picture_bytes_ = 0;
};

}  // namespace stripbook::print
