// Reports that must not be larger than a mail takes.
#pragma once

#include <cstdint>
#include <functional>

#include "print/condition_report.h"

namespace stripbook::print {

/// Fewer dots per inch than this, and a photo shows no detail on paper (a judgement, looked at on screen).
inline constexpr double least_dots_per_inch = 60;

/// Writes the report, and again with fewer dots per inch until the file has at most `most_bytes`. When even
/// the least is too large that file stays, and a remark says so.
ReportResult write_within(std::uintmax_t most_bytes, const ReportOptions& options,
                          const std::function<ReportResult(const ReportOptions&)>& write);

}  // namespace stripbook::print
