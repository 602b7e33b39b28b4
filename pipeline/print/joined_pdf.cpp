#include "print/joined_pdf.h"

#include <fmt/format.h>
#include <unistd.h>

#include <list>
#include <qpdf/Pipeline.hh>
#include <qpdf/QPDF.hh>
#include <qpdf/QPDFCryptoImpl.hh>
#include <qpdf/QPDFCryptoProvider.hh>
#include <qpdf/QPDFExc.hh>
#include <qpdf/QPDFPageDocumentHelper.hh>
#include <qpdf/QPDFPageObjectHelper.hh>
#include <qpdf/QPDFWriter.hh>
#include <stdexcept>
#include <string_view>
#include <utility>

#include "errors.h"
#include "print/document_facts.h"
#include "print/outline_tree.h"
#include "print/report_file.h"

namespace stripbook::print {

namespace {

std::unique_ptr<std::FILE, int (*)(std::FILE*)> opened(const std::filesystem::path& file) {
    return {std::fopen(file.c_str(), "rb"), std::fclose};
}

QPDFObjectHandle real(double value) {
    return QPDFObjectHandle::newReal(value, 2);
}

double height_pt(QPDFPageObjectHelper& page) {
    return page.getMediaBox().getArrayItem(3).getNumericValue();
}

// ISO 32000-1, 12.5.6.5; the flag "print" is what PDF/A asks of every annotation (ISO 19005-1, 6.5.3).
QPDFObjectHandle link_annotation(std::vector<QPDFPageObjectHelper>& pages, const PageLink& link) {
    const double page_height = height_pt(pages.at(link.page));
    auto annotation = QPDFObjectHandle::parse("<< /Type /Annot /Subtype /Link /Border [0 0 0] /F 4 >>");
    auto rectangle = QPDFObjectHandle::newArray();
    for (const double edge : {link.box.x / mm_per_point, page_height - link.box.bottom() / mm_per_point,
                              link.box.right() / mm_per_point, page_height - link.box.y / mm_per_point}) {
        rectangle.appendItem(real(edge));
    }
    annotation.replaceKey("/Rect", rectangle);
    annotation.replaceKey("/Dest", destination(pages.at(link.to_page), link.to_y));
    return annotation;
}

void add_links(QPDF& pdf, std::vector<QPDFPageObjectHelper>& pages, const std::vector<PageLink>& links) {
    for (const auto& link : links) {
        auto page = pages.at(link.page).getObjectHandle();
        if (!page.hasKey("/Annots")) {
            page.replaceKey("/Annots", QPDFObjectHandle::newArray());
        }
        page.getKey("/Annots").appendItem(pdf.makeIndirectObject(link_annotation(pages, link)));
    }
}

std::uintmax_t bytes_of(const PdfPiece& piece) {
    return static_cast<std::uintmax_t>(std::fseek(piece.file(), 0, SEEK_END) == 0 ? std::ftell(piece.file())
                                                                                  : 0);
}

// Names the document (ISO 32000-1, 14.4): by what it says of itself, its bookmarks, and the sizes of its
// pieces. qpdf would hash all its bytes, which takes an eighth of the time where there are hundreds of
// megabytes of photos.
std::string identifier_of(const std::vector<PdfPiece>& pieces, const JoinPlan& plan) {
    std::string words = xmp_of(plan.facts, plan.archival);
    for (const auto& bookmark : plan.bookmarks) {
        words += fmt::format("{} {} {:.3f}\n", bookmark.title, bookmark.page, bookmark.y);
    }
    for (const auto& piece : pieces) {
        words += fmt::format("{}\n", bytes_of(piece));
    }
    const auto md5 = QPDFCryptoProvider::getImpl();
    QPDFCryptoImpl::MD5_Digest digest{};
    md5->MD5_init();
    md5->MD5_update(reinterpret_cast<const unsigned char*>(words.data()), words.size());
    md5->MD5_finalize();
    md5->MD5_digest(digest);
    std::string hex;
    for (const unsigned char byte : digest) {
        hex += fmt::format("{:02x}", byte);
    }
    return "<" + hex + ">";
}

// Passes everything on to the file, with the document's own identifier for qpdf's fixed one.
class ToFile : public Pipeline {
  public:
    ToFile(std::FILE* stream, std::string name)
        : Pipeline("report", nullptr), stream_(stream), name_(std::move(name)) {}
    void write(const unsigned char* data, std::size_t length) override {
        const std::string_view bytes(reinterpret_cast<const char*>(data), length);
        const std::string_view out = bytes == fixed ? std::string_view(name_) : bytes;
        if (std::fwrite(out.data(), 1, out.size(), stream_) != out.size()) {
            throw std::runtime_error("the disk takes no more");  // the stream keeps the error
        }
    }
    void finish() override {}

  private:
    static constexpr std::string_view fixed = "<31415926535897932384626433832795>";
    std::FILE* stream_;
    std::string name_;
};

void write(QPDF& pdf, std::FILE* stream, const std::string& identifier) {
    ToFile file(stream, identifier);
    QPDFWriter writer(pdf);
    writer.setOutputPipeline(&file);
    // PDF 1.4 has neither object streams nor reference streams.
    writer.setObjectStreamMode(qpdf_o_disable);
    writer.setMinimumPDFVersion("1.4");
    writer.setStreamDataMode(qpdf_s_preserve);
    writer.setNewlineBeforeEndstream(true);  // ISO 19005-1, 6.1.7
    writer.setStaticID(true);
    writer.write();
}

void join(const std::vector<PdfPiece>& pieces, const JoinPlan& plan, std::FILE* stream) {
    QPDF joined;
    joined.emptyPDF();
    QPDFPageDocumentHelper all(joined);
    std::list<QPDF> sources;  // each is read from until the last byte is written
    for (const auto& piece : pieces) {
        QPDF& source = sources.emplace_back();
        source.processFile("a piece of the report", piece.file(), false);
        for (auto& page : QPDFPageDocumentHelper(source).getAllPages()) {
            all.addPage(page, false);
        }
    }
    auto pages = all.getAllPages();
    add_links(joined, pages, plan.links);
    add_outline(joined, pages, plan.bookmarks, plan.open_levels);
    add_facts(joined, plan.facts, plan.archival);
    write(joined, stream, identifier_of(pieces, plan));
}

}  // namespace

PdfPiece::PdfPiece(PdfDocument& document, const std::filesystem::path& folder) : file_(nullptr, std::fclose) {
    const auto path = folder / fmt::format(".stripbook-{}.piece", ::getpid());
    try {
        document.save(path);
        file_ = opened(path);
    } catch (...) {
        ::unlink(path.c_str());
        throw;
    }
    ::unlink(path.c_str());
    if (!file_) {
        throw OutsideError(fmt::format(
            "the report cannot be put together in {}; choose another place with --out", folder.string()));
    }
}

void write_joined(const std::vector<PdfPiece>& pieces, const JoinPlan& plan,
                  const std::filesystem::path& file) {
    try {
        write_whole_file(file, [&](std::FILE* stream) { join(pieces, plan, stream); });
    } catch (const QPDFExc& fault) {
        throw OutsideError(fmt::format("{} cannot be put together ({}); please report this", file.string(),
                                       fault.getMessageDetail()));
    }
}

}  // namespace stripbook::print
