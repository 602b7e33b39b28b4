// Readings and photo dimensions of a part, feature by feature, judged against its limits after ISO 14253-1.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/inspection.h"
#include "book/measurements.h"

namespace stripbook::book {

/// One value against one limit.
struct Judgement {
    GaugeLimit limit;
    std::string
        verdict;  ///< "within", "beyond", "not decided", "not judged"; of a photo "beyond: measure it"
    std::string because;                  ///< one line beside "not judged" and "not decided"; else empty
    std::optional<double> chance_within;  ///< 0 to 1, where it is not decided by an instrument
};

struct JudgedReading {
    GaugeReading reading;
    std::optional<double> expanded_mm;  ///< U = 2 u
    std::vector<Judgement> judgements;
};

/// The largest reading of a feature less the smallest: taper, out-of-round.
struct Spread {
    double mm = 0;
    std::optional<double> expanded_mm;  ///< null when the uncertainty of one of the two was not told
    std::string largest, smallest;      ///< "45.02 mm, top"
    std::vector<Judgement> judgements;
};

/// A dimension measured from a photo that has the name of a feature with a limit. No gauge: never "within".
struct JudgedDimension {
    PhotoNumber photo;
    std::string name;
    double mm = 0;
    double expanded_mm = 0;
    std::vector<Judgement> judgements;
};

struct JudgedFeature {
    std::string feature;
    std::vector<JudgedReading> readings;  ///< that stand
    std::optional<Spread> spread;         ///< of two readings or more
    std::vector<JudgedDimension> from_photos;
    std::vector<GaugeLimit> limits;  ///< that stand
};

/// In the order the features were first named; capitals are not told apart.
std::vector<JudgedFeature> judged_features(const Inspection& inspection,
                                           const std::vector<Measurement>& measurements);

/// "hole diameter 3", "centre distance 1-4", "length".
std::string dimension_name(const DimensionRecord& dimension);

}  // namespace stripbook::book
