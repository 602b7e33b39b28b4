#include "print/pdf_document.h"

#include <fmt/format.h>

#include <charconv>

#include "errors.h"

namespace stripbook::print {

namespace {

void record_first_error(HPDF_STATUS error, HPDF_STATUS /*detail*/, void* user_data) {
    auto* first = static_cast<HPDF_STATUS*>(user_data);
    if (*first == 0) {
        *first = error;
    }
}

int number_at(const std::string& date, std::size_t at, std::size_t digits) {
    int value = -1;
    const char* from = date.data() + at;
    const auto [end, fault] = std::from_chars(from, from + digits, value);
    return fault == std::errc{} && end == from + digits ? value : -1;
}

HPDF_Date date_from(const std::string& text) {
    HPDF_Date date{};
    const bool shaped = text.size() == 10 && text[4] == '-' && text[7] == '-';
    if (shaped) {
        date.year = number_at(text, 0, 4);
        date.month = number_at(text, 5, 2);
        date.day = number_at(text, 8, 2);
    }
    if (!shaped || date.year < 1900 || date.month < 1 || date.month > 12 || date.day < 1 || date.day > 31) {
        throw WrongUse(fmt::format("\"{}\" is not a date; write it as 2026-11-25", text));
    }
    date.ind = '+';
    return date;
}

}  // namespace

PdfDocument::PdfDocument(const Lettering& lettering, const DocumentFacts& facts)
    : lettering_(lettering), doc_(HPDF_New(record_first_error, &error_)) {
    if (doc_ == nullptr) {
        throw OutsideError(
            "the PDF cannot be begun: there is not enough memory; close other programs and try again");
    }
    try {
        // Not HPDF_COMP_IMAGE: JPEGs are compressed already.
        HPDF_SetCompressionMode(doc_, HPDF_COMP_TEXT | HPDF_COMP_METADATA);
        HPDF_UseUTFEncodings(doc_);
        HPDF_SetCurrentEncoder(doc_, "UTF-8");  // of the facts below
        set_facts(facts);
        check();
    } catch (...) {
        HPDF_Free(doc_);
        throw;
    }
}

PdfDocument::~PdfDocument() {
    HPDF_Free(doc_);
}

void PdfDocument::set_facts(const DocumentFacts& facts) {
    const auto set = [this](HPDF_InfoType which, const std::string& text) {
        if (!text.empty()) {
            HPDF_SetInfoAttr(doc_, which, text.c_str());
        }
    };
    set(HPDF_INFO_TITLE, facts.title);
    set(HPDF_INFO_AUTHOR, facts.author);
    set(HPDF_INFO_SUBJECT, facts.subject);
    set(HPDF_INFO_CREATOR, facts.program);
    set(HPDF_INFO_PRODUCER, facts.program + ", " HPDF_VERSION_TEXT);
    const HPDF_Date date = date_from(facts.date);
    HPDF_SetInfoDateAttr(doc_, HPDF_INFO_CREATION_DATE, date);
    HPDF_SetInfoDateAttr(doc_, HPDF_INFO_MOD_DATE, date);
    HPDF_SetPageMode(doc_, HPDF_PAGE_MODE_USE_OUTLINE);
}

void PdfDocument::print_at_true_size() {
    HPDF_SetViewerPreference(doc_, HPDF_PRINT_SCALING_NONE);
    HPDF_SetPageMode(doc_, HPDF_PAGE_MODE_USE_NONE);
    check();
}

void PdfDocument::check() {
    const HPDF_STATUS error = error_ != 0 ? error_ : HPDF_GetError(doc_);
    if (error == 0) {
        return;
    }
    if (error == HPDF_FAILD_TO_ALLOC_MEM) {
        throw OutsideError(
            "the PDF cannot be finished: there is not enough memory; close other programs and try again");
    }
    throw OutsideError(
        fmt::format("the PDF cannot be made: the PDF library refused with its code {:04X}; please report "
                    "this with the tag number",
                    error));
}

Sheet& PdfDocument::add_sheet(double width, double height) {
    HPDF_Page page = HPDF_AddPage(doc_);
    HPDF_Page_SetWidth(page, static_cast<HPDF_REAL>(width / mm_per_point));
    HPDF_Page_SetHeight(page, static_cast<HPDF_REAL>(height / mm_per_point));
    check();
    return sheets_.emplace_back(*this, page, width, height);
}

std::optional<HPDF_Image> PdfDocument::add_jpeg(const std::string& bytes) {
    check();
    HPDF_Image image = HPDF_LoadJpegImageFromMem(doc_, reinterpret_cast<const HPDF_BYTE*>(bytes.data()),
                                                 static_cast<HPDF_UINT>(bytes.size()));
    const bool refused = image == nullptr || error_ != 0;
    if (refused && error_ != HPDF_FAILD_TO_ALLOC_MEM) {
        // One picture is no reason to lose the report.
        error_ = 0;
        HPDF_ResetError(doc_);
        return std::nullopt;
    }
    check();
    picture_bytes_ += bytes.size();
    return image;
}

HPDF_Outline PdfDocument::add_bookmark(const std::string& title, const Sheet& sheet, double y,
                                       HPDF_Outline parent) {
    HPDF_Outline bookmark = HPDF_CreateOutline(doc_, parent, title.c_str(), HPDF_GetEncoder(doc_, "UTF-8"));
    HPDF_Destination destination = HPDF_Page_CreateDestination(sheet.page());
    HPDF_Destination_SetFitH(destination, static_cast<HPDF_REAL>((sheet.height() - y) / mm_per_point));
    HPDF_Outline_SetDestination(bookmark, destination);
    HPDF_Outline_SetOpened(bookmark, HPDF_TRUE);
    check();
    return bookmark;
}

HPDF_Font PdfDocument::font(Face face, bool unicode) {
    const char*& name = loaded_[static_cast<std::size_t>(face)];
    if (name == nullptr) {
        name = HPDF_LoadTTFontFromFile(doc_, lettering_.file(face).path().c_str(), HPDF_TRUE);
        check();
    }
    uses_unicode_ |= unicode;
    HPDF_Font font = HPDF_GetFont(doc_, name, unicode ? "UTF-8" : "WinAnsiEncoding");
    check();
    return font;
}

void PdfDocument::save(const std::filesystem::path& file) {
    check();
    HPDF_SaveToFile(doc_, file.c_str());
    if (error_ == HPDF_FILE_IO_ERROR || error_ == HPDF_FILE_OPEN_ERROR) {
        throw OutsideError(
            fmt::format("{} cannot be written; make room on the disk, or choose another place with --out",
                        file.string()));
    }
    check();
}

std::string PdfDocument::bytes() {
    check();
    HPDF_SaveToStream(doc_);
    check();
    std::string out(HPDF_GetStreamSize(doc_), '\0');
    auto size = static_cast<HPDF_UINT32>(out.size());
    HPDF_ReadFromStream(doc_, reinterpret_cast<HPDF_BYTE*>(out.data()), &size);
    check();
    out.resize(size);
    return out;
}

}  // namespace stripbook::print
