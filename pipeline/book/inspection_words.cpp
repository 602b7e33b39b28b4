#include <fmt/format.h>

#include "book/inspection.h"
#include "book/number_text.h"

namespace stripbook::book {

namespace {

std::string with_comma(const std::string& first, const std::string& second) {
    return second.empty() ? first : first + ", " + second;
}

}  // namespace

std::string words_of(const Finding& finding) {
    std::string words = with_comma(finding.kind, finding.where);
    if (!finding.how_bad.empty()) {
        words += ": " + finding.how_bad;
    }
    std::string photos;
    for (const auto& photo : finding.photos) {
        photos += (photos.empty() ? "" : ", ") + photo.text();
    }
    return photos.empty() ? words : fmt::format("{} ({})", words, photos);
}

std::string words_of(const GaugeReading& reading) {
    const std::string u = reading.u_mm ? fmt::format("u {} mm", number_text(*reading.u_mm)) : "u not told";
    return fmt::format(
        "{}: {}, {}", with_comma(reading.feature, reading.spot), reading.typed,
        with_comma(reading.instrument.empty() ? "instrument not told" : reading.instrument, u));
}

std::string bounds_of(const GaugeLimit& limit) {
    if (limit.lower_mm && limit.upper_mm) {
        return fmt::format("{} to {}", limit.lower_typed, limit.upper_typed);
    }
    return limit.lower_mm ? "at least " + limit.lower_typed : "at most " + limit.upper_typed;
}

std::string words_of(const GaugeLimit& limit) {
    return fmt::format("{}{} {} ({})", limit.feature, limit.of_spread ? ", largest less smallest" : "",
                       bounds_of(limit), limit.source);
}

}  // namespace stripbook::book
