#include "book/judged_features.h"

#include <algorithm>

#include "book/number_text.h"
#include "number/judge.h"

namespace stripbook::book {

namespace {

number::Limits limits_of(const GaugeLimit& limit) {
    return {limit.lower_mm, limit.upper_mm};
}

Judgement judged(double mm, const std::optional<double>& expanded_mm, const GaugeLimit& limit) {
    if (!expanded_mm) {
        return {limit, "not judged", "its uncertainty was not told", std::nullopt};
    }
    const auto verdict = number::judge_reading(mm, *expanded_mm, limits_of(limit));
    Judgement judgement{limit, std::string(number::word_of(verdict)), "", std::nullopt};
    if (verdict == number::Verdict::not_decided && *expanded_mm > 0) {
        judgement.because = "it lies within U of the limit";
        judgement.chance_within = number::chance_within(mm, *expanded_mm / 2, limits_of(limit));
    }
    return judgement;
}

std::vector<Judgement> judgements_of(double mm, const std::optional<double>& expanded_mm,
                                     const std::vector<GaugeLimit>& limits, bool of_spread) {
    std::vector<Judgement> judgements;
    for (const auto& limit : limits) {
        if (limit.of_spread == of_spread) {
            judgements.push_back(judged(mm, expanded_mm, limit));
        }
    }
    return judgements;
}

JudgedFeature& feature_named(std::vector<JudgedFeature>& features, const std::string& name) {
    const std::string small = in_small_letters(name);
    const auto found = std::find_if(features.begin(), features.end(), [&](const JudgedFeature& f) {
        return in_small_letters(f.feature) == small;
    });
    if (found != features.end()) {
        return *found;
    }
    features.emplace_back();
    features.back().feature = name;
    return features.back();
}

std::string words_at(const GaugeReading& reading) {
    return reading.spot.empty() ? reading.typed : reading.typed + ", " + reading.spot;
}

std::optional<Spread> spread_of(const JudgedFeature& feature) {
    constexpr std::size_t least = 2;
    if (feature.readings.size() < least) {
        return std::nullopt;
    }
    const auto [smallest, largest] = std::minmax_element(feature.readings.begin(), feature.readings.end(),
                                                         [](const JudgedReading& a, const JudgedReading& b) {
                                                             return a.reading.value_mm < b.reading.value_mm;
                                                         });
    Spread spread;
    spread.mm = largest->reading.value_mm - smallest->reading.value_mm;
    if (largest->expanded_mm && smallest->expanded_mm) {
        spread.expanded_mm = number::expanded_of_difference(*largest->expanded_mm, *smallest->expanded_mm);
    }
    spread.largest = words_at(largest->reading);
    spread.smallest = words_at(smallest->reading);
    spread.judgements = judgements_of(spread.mm, spread.expanded_mm, feature.limits, true);
    return spread;
}

void add_dimension(JudgedFeature& feature, const Measurement& measurement, const DimensionRecord& dimension) {
    JudgedDimension judged_dimension{
        measurement.photo, dimension_name(dimension), dimension.value, dimension.expanded, {}};
    for (const auto& limit : feature.limits) {
        if (!limit.of_spread) {
            const auto verdict =
                number::judge_dimension(dimension.value, dimension.expanded, limits_of(limit));
            judged_dimension.judgements.push_back(
                {limit, std::string(number::photo_word_of(verdict)), "", std::nullopt});
        }
    }
    if (!judged_dimension.judgements.empty()) {
        feature.from_photos.push_back(std::move(judged_dimension));
    }
}

}  // namespace

std::vector<JudgedFeature> judged_features(const Inspection& inspection,
                                           const std::vector<Measurement>& measurements) {
    std::vector<JudgedFeature> features;
    for (const auto& limit : inspection.limits) {
        if (limit.entry.stands()) {
            feature_named(features, limit.feature).limits.push_back(limit);
        }
    }
    for (const auto& reading : inspection.readings) {
        if (!reading.entry.stands()) {
            continue;
        }
        auto& feature = feature_named(features, reading.feature);
        const auto expanded = reading.u_mm ? std::optional(2 * *reading.u_mm) : std::nullopt;
        feature.readings.push_back(
            {reading, expanded, judgements_of(reading.value_mm, expanded, feature.limits, false)});
    }
    for (auto& feature : features) {
        feature.spread = spread_of(feature);
        for (const auto& measurement : measurements) {
            for (const auto& dimension : measurement.dimensions) {
                const bool same_name =
                    in_small_letters(dimension_name(dimension)) == in_small_letters(feature.feature);
                if (same_name && dimension.unit == "mm") {
                    add_dimension(feature, measurement, dimension);
                }
            }
        }
    }
    return features;
}

std::string dimension_name(const DimensionRecord& dimension) {
    std::string holes;
    // A bolt circle names many; the table beside it does.
    constexpr std::size_t most_named = 2;
    if (dimension.holes.size() <= most_named) {
        for (const int hole : dimension.holes) {
            holes += (holes.empty() ? " " : "-") + std::to_string(hole);
        }
    }
    return dimension.name + holes;
}

}  // namespace stripbook::book
