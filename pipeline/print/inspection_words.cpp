#include "print/inspection_words.h"

#include <fmt/format.h>

#include <cmath>

#include "measure/budget.h"
#include "number/length_text.h"

namespace stripbook::print {

namespace {

// "0.02 mm" or "0.0008 in".
std::string expanded_text(const std::optional<double>& mm, const LengthStyle& style) {
    if (!mm) {
        return "not told";
    }
    const double value = style.inch ? *mm / number::mm_per_inch : *mm;
    return measure::rounded(value, value).expanded_text + (style.inch ? " in" : " mm");
}

// To the decimals of its uncertainty; else to a micrometre or a ten-thousandth of an inch.
std::string length_text(double mm, const std::optional<double>& expanded_mm, bool inch) {
    const double per_unit = inch ? number::mm_per_inch : 1;
    const std::string unit = inch ? " in" : " mm";
    if (expanded_mm && *expanded_mm > 0) {
        return measure::rounded(mm / per_unit, *expanded_mm / per_unit).value_text + unit;
    }
    return measure::text_with_decimals(mm / per_unit, inch ? 4 : 3) + unit;
}

std::string value_text(const book::GaugeReading& reading, const std::optional<double>& expanded_mm,
                       const LengthStyle& style) {
    const bool typed_mm = reading.typed.ends_with("mm") || reading.typed.ends_with("um");
    std::string text = reading.typed;
    if (typed_mm == style.inch) {
        text += fmt::format(" ({})", length_text(reading.value_mm, expanded_mm, style.inch));
    }
    return style.fractions ? fmt::format("{} = {}", text, number::inch_fraction(reading.value_mm)) : text;
}

std::vector<std::string> judgement_words(const std::vector<book::Judgement>& judgements) {
    std::vector<std::string> words;
    for (const auto& j : judgements) {
        std::string verdict = j.verdict;
        if (j.chance_within) {
            verdict += fmt::format(", {:.0f} % likely within", std::round(*j.chance_within * 100));
        } else if (!j.because.empty()) {
            verdict += ", " + j.because;
        }
        words.push_back(fmt::format("{}: {} ({})", verdict, book::bounds_of(j.limit), j.limit.source));
    }
    return words;
}

FeatureRow row_of(const book::JudgedReading& judged, const LengthStyle& style) {
    const auto& reading = judged.reading;
    return {reading.spot.empty() ? reading.feature : reading.feature + ", " + reading.spot,
            value_text(reading, judged.expanded_mm, style),
            expanded_text(judged.expanded_mm, style),
            reading.instrument.empty() ? "not told" : reading.instrument,
            by_and_when(reading.entry),
            judgement_words(judged.judgements),
            reading.entry.number};
}

FeatureRow row_of(const book::Spread& spread, const std::string& feature, const LengthStyle& style) {
    return {feature + ", largest less smallest",
            length_text(spread.mm, spread.expanded_mm, style.inch),
            expanded_text(spread.expanded_mm, style),
            fmt::format("{} less {}", spread.largest, spread.smallest),
            "",
            judgement_words(spread.judgements),
            0};
}

FeatureRow row_of(const book::JudgedDimension& dimension, const LengthStyle& style) {
    return {fmt::format("{} in {}", dimension.name, dimension.photo.text()),
            length_text(dimension.mm, dimension.expanded_mm, style.inch),
            expanded_text(dimension.expanded_mm, style),
            "from a photo, no gauge",
            "",
            judgement_words(dimension.judgements),
            0};
}

// A limit without any reading is work to do.
FeatureRow row_of(const book::GaugeLimit& limit) {
    return {limit.feature,
            "not measured yet",
            "",
            "",
            "",
            {fmt::format("{} ({})", book::bounds_of(limit), limit.source)},
            limit.entry.number};
}

}  // namespace

std::vector<FeatureRow> feature_rows(const book::JudgedFeature& feature, const LengthStyle& style) {
    std::vector<FeatureRow> rows;
    for (const auto& reading : feature.readings) {
        rows.push_back(row_of(reading, style));
    }
    if (feature.spread) {
        rows.push_back(row_of(*feature.spread, feature.feature, style));
    }
    for (const auto& dimension : feature.from_photos) {
        rows.push_back(row_of(dimension, style));
    }
    if (feature.readings.empty()) {
        for (const auto& limit : feature.limits) {
            rows.push_back(row_of(limit));
        }
    }
    return rows;
}

std::string by_and_when(const book::InspectionEntry& entry) {
    return entry.by.empty() ? entry.on : fmt::format("{}, {}", entry.by, entry.on);
}

}  // namespace stripbook::print
