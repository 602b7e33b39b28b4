// The condition report as the bytes of a PDF, from content that is all at hand.
#pragma once

#include <string>
#include <vector>

#include "print/report_content.h"
#include "print/report_flow.h"

namespace stripbook::print {

struct DrawnReport {
    std::string pdf;
    int pages = 0;
    int photos = 0;  ///< shown as pictures
    std::vector<std::string> remarks;
};

/// Throws OutsideError when a font is missing or memory runs out, WrongUse when the date is none.
DrawnReport draw_report(const ReportContent& content, const Paper& paper);

}  // namespace stripbook::print
