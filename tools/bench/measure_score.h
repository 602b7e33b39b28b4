// Measured dimensions against the truth.
#pragma once

#include <string>
#include <vector>

#include "bench/measure_set.h"
#include "measure/dimension.h"

namespace stripbook::bench {

struct Compared {
    std::string name;  ///< length, hole diameter, ...
    double truth_mm = 0;
    double error_mm = 0;
    double expanded_mm = 0;
};

struct ShotScore {
    std::vector<Compared> dimensions;
    int missing = 0;  ///< true holes and sizes that were not measured
    int phantom = 0;  ///< holes measured that are none
    /// An error above 3 U, or above 1 % where that is more than 0.5 mm, or a hole that is none.
    [[nodiscard]] bool wrong() const;
};

ShotScore score_of(const TruePart& truth, const measure::PartMeasurement& measured);

struct Summary {
    std::size_t dimensions = 0;
    double half_within = 0;        ///< share within 0.15 mm or 0.1 %
    double nearly_all_within = 0;  ///< share within 0.5 mm or 0.3 %
    double covered = 0;            ///< share with the truth inside value +- U
    double median_expanded_mm = 0;
    double median_expanded_200_mm = 0;  ///< of sizes of 150 mm and more, scaled to 200 mm
    double median_error_mm = 0;
};
Summary summary_of(const std::vector<Compared>& all);

}  // namespace stripbook::bench
