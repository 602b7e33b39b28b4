#include "print/document_facts.h"

#include <fmt/format.h>

#include <fstream>
#include <iterator>

#include "errors.h"

namespace stripbook::print {

namespace {

constexpr const char* srgb_file = "/usr/share/color/icc/sRGB.icc";

std::string producer(const DocumentFacts& facts) {
    return facts.program + ", libharu " HPDF_VERSION_TEXT ", qpdf " + QPDF::QPDFVersion();
}

std::string in_xml(std::string_view text) {
    std::string out;
    for (const char c : text) {
        switch (c) {
            case '&':
                out += "&amp;";
                break;
            case '<':
                out += "&lt;";
                break;
            case '>':
                out += "&gt;";
                break;
            default:
                out += c;
        }
    }
    return out;
}

std::string pdf_date(const std::string& day) {
    return "D:" + day.substr(0, 4) + day.substr(5, 2) + day.substr(8, 2) + "000000+00'00'";
}

void add_information(QPDF& pdf, const DocumentFacts& facts) {
    auto information = pdf.makeIndirectObject(QPDFObjectHandle::newDictionary());
    const auto add = [&](const char* key, const std::string& text) {
        if (!text.empty()) {
            information.replaceKey(key, QPDFObjectHandle::newUnicodeString(text));
        }
    };
    add("/Title", facts.title);
    add("/Author", facts.author);
    add("/Subject", facts.subject);
    add("/Creator", facts.program);
    add("/Producer", producer(facts));
    add("/CreationDate", pdf_date(facts.date));
    add("/ModDate", pdf_date(facts.date));
    pdf.getTrailer().replaceKey("/Info", information);
}

std::string srgb_profile() {
    std::ifstream in(srgb_file, std::ios::binary);
    std::string bytes((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
    if (!in.is_open() || in.bad() || bytes.empty()) {
        throw OutsideError(
            fmt::format("the colour profile {} cannot be read; install the package "
                        "icc-profiles-free",
                        srgb_file));
    }
    return bytes;
}

// ISO 19005-1, 6.2.2.
void add_output_intent(QPDF& pdf) {
    auto profile = QPDFObjectHandle::newStream(&pdf, srgb_profile());
    profile.getDict().replaceKey("/N", QPDFObjectHandle::newInteger(3));
    auto intent = QPDFObjectHandle::parse(
        "<< /Type /OutputIntent /S /GTS_PDFA1 /OutputConditionIdentifier (sRGB) /Info (sRGB IEC61966-2.1) "
        ">>");
    intent.replaceKey("/DestOutputProfile", pdf.makeIndirectObject(profile));
    auto intents = QPDFObjectHandle::newArray();
    intents.appendItem(pdf.makeIndirectObject(intent));
    pdf.getRoot().replaceKey("/OutputIntents", intents);
}

}  // namespace

std::string xmp_of(const DocumentFacts& facts, bool archival) {
    const auto alternative = [](const char* name, const std::string& text) {
        return text.empty() ? ""
                            : fmt::format(
                                  "<dc:{0}><rdf:Alt><rdf:li xml:lang=\"x-default\">{1}</rdf:li>"
                                  "</rdf:Alt></dc:{0}>\n",
                                  name, in_xml(text));
    };
    const std::string author = facts.author.empty() ? ""
                                                    : "<dc:creator><rdf:Seq><rdf:li>" + in_xml(facts.author) +
                                                          "</rdf:li></rdf:Seq></dc:creator>\n";
    return fmt::format(
        "<?xpacket begin=\"\xEF\xBB\xBF\" id=\"W5M0MpCehiHzreSzNTczkc9d\"?>\n"
        "<x:xmpmeta xmlns:x=\"adobe:ns:meta/\">\n"
        "<rdf:RDF xmlns:rdf=\"http://www.w3.org/1999/02/22-rdf-syntax-ns#\">\n"
        "<rdf:Description rdf:about=\"\" xmlns:dc=\"http://purl.org/dc/elements/1.1/\">\n"
        "{title}{author}{subject}</rdf:Description>\n"
        "<rdf:Description rdf:about=\"\" xmlns:xmp=\"http://ns.adobe.com/xap/1.0/\">\n"
        "<xmp:CreatorTool>{program}</xmp:CreatorTool>\n"
        "<xmp:CreateDate>{day}T00:00:00+00:00</xmp:CreateDate>\n"
        "<xmp:ModifyDate>{day}T00:00:00+00:00</xmp:ModifyDate>\n</rdf:Description>\n"
        "<rdf:Description rdf:about=\"\" xmlns:pdf=\"http://ns.adobe.com/pdf/1.3/\">\n"
        "<pdf:Producer>{producer}</pdf:Producer>\n</rdf:Description>\n"
        "{archival}</rdf:RDF>\n</x:xmpmeta>\n<?xpacket end=\"w\"?>",
        fmt::arg("title", alternative("title", facts.title)), fmt::arg("author", author),
        fmt::arg("subject", alternative("description", facts.subject)),
        fmt::arg("program", in_xml(facts.program)), fmt::arg("day", facts.date),
        fmt::arg("producer", in_xml(producer(facts))),
        fmt::arg("archival", archival ? "<rdf:Description rdf:about=\"\" "
                                        "xmlns:pdfaid=\"http://www.aiim.org/pdfa/ns/id/\">\n"
                                        "<pdfaid:part>1</pdfaid:part>\n"
                                        "<pdfaid:conformance>B</pdfaid:conformance>\n</rdf:Description>\n"
                                      : ""));
}

void add_facts(QPDF& pdf, const DocumentFacts& facts, bool archival) {
    add_information(pdf, facts);
    auto metadata = QPDFObjectHandle::newStream(&pdf, xmp_of(facts, archival));
    metadata.getDict().replaceKey("/Type", QPDFObjectHandle::newName("/Metadata"));
    metadata.getDict().replaceKey("/Subtype", QPDFObjectHandle::newName("/XML"));
    pdf.getRoot().replaceKey("/Metadata", pdf.makeIndirectObject(metadata));
    if (archival) {
        add_output_intent(pdf);
    }
}

bool colour_profile_is_there() {
    return std::ifstream(srgb_file).good();
}

}  // namespace stripbook::print
