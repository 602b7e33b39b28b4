// What a PDF says of itself: information dictionary and XMP metadata with the same facts, and the colour that
// PDF/A-1b (ISO 19005-1) asks for.
#pragma once

#include <qpdf/QPDF.hh>

#include "print/pdf_document.h"

namespace stripbook::print {

/// `archival`: says besides that the file is PDF/A-1b, with the colour profile of its pictures. Throws
/// OutsideError when that profile cannot be read.
void add_facts(QPDF& pdf, const DocumentFacts& facts, bool archival);

/// The colour profile that PDF/A needs is on this machine.
bool colour_profile_is_there();

/// The facts as an XMP packet (ISO 16684-1; the PDF/A identification: ISO 19005-1, 6.7.11).
std::string xmp_of(const DocumentFacts& facts, bool archival);

}  // namespace stripbook::print
