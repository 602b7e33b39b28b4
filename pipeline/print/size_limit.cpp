#include "print/size_limit.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace stripbook::print {

namespace {

// A photo's bytes go down somewhat slower than its pixels: aim a little lower than that, and always by a
// tenth at least.
double next_dots(double dots, double bytes, double most_bytes) {
    constexpr double aim = 0.92;
    const double by_area = dots * std::sqrt(most_bytes / bytes) * aim;
    return std::clamp(by_area, least_dots_per_inch, std::max(least_dots_per_inch, 0.9 * dots));
}

}  // namespace

ReportResult write_within(std::uintmax_t most_bytes, const ReportOptions& options,
                          const std::function<ReportResult(const ReportOptions&)>& write) {
    ReportOptions smaller = options;
    while (true) {
        ReportResult result = write(smaller);
        const auto bytes = std::filesystem::file_size(result.file);
        if (bytes <= most_bytes) {
            return result;
        }
        if (smaller.dots_per_inch <= least_dots_per_inch) {
            constexpr double mega = 1e6;
            result.remarks.push_back(
                fmt::format("{} has {:.1f} MB and cannot be made smaller than {:.1f} MB with legible photos; "
                            "send it in parts (--assembly), or on a stick",
                            result.file.filename().string(), static_cast<double>(bytes) / mega,
                            static_cast<double>(most_bytes) / mega));
            return result;
        }
        smaller.dots_per_inch =
            next_dots(smaller.dots_per_inch, static_cast<double>(bytes), static_cast<double>(most_bytes));
    }
}

}  // namespace stripbook::print
