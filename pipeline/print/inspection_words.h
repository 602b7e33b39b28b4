// Gauge readings and their judgement in words, for the terminal and the report.
#pragma once

#include <string>
#include <vector>

#include "book/judged_features.h"

namespace stripbook::print {

/// How lengths are shown.
struct LengthStyle {
    bool inch = false;       ///< in inches where they were not typed so
    bool fractions = false;  ///< with the nearest sixty-fourth of an inch
};

/// One value of a feature, or that there is none yet.
struct FeatureRow {
    std::string feature;   ///< "bore, top", "bore, largest less smallest", "length in p12, no gauge"
    std::string value;     ///< as typed; in the other unit behind it where that is the book's
    std::string expanded;  ///< "0.02 mm", or "not told"
    std::string instrument;
    std::string by_and_when;
    std::vector<std::string> judgements;  ///< "within: at most 45.10 mm (works drawing 123)"
    std::int64_t entry = 0;               ///< 0: the row is worked out, not an entry
};

/// Readings first, then what is worked out of them, then what photos say of the same feature.
std::vector<FeatureRow> feature_rows(const book::JudgedFeature& feature, const LengthStyle& style);

/// "Ana, 2026-11-25".
std::string by_and_when(const book::InspectionEntry& entry);

/// What the words mean, to be shown with them.
inline constexpr const char* judgement_note =
    "Judged after ISO 14253-1 with U = 2 u on either side of the limit: within and beyond are proved, not "
    "decided "
    "is neither. U of a difference counts the errors of its two readings as independent.";

}  // namespace stripbook::print
