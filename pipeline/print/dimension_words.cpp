#include "print/dimension_words.h"

#include <fmt/format.h>

#include "book/number_text.h"
#include "measure/budget.h"

namespace stripbook::print {

std::string dimension_name(const book::DimensionRecord& dimension) {
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

ValueWords value_words(const book::DimensionRecord& dimension, bool inch) {
    double per_unit = 1;
    std::string unit = dimension.unit;
    if (inch) {
        per_unit = dimension.unit == "mm2" ? book::mm_per_inch * book::mm_per_inch : book::mm_per_inch;
        unit = dimension.unit == "mm2" ? "in2" : "in";
    }
    const auto r = measure::rounded(dimension.value / per_unit, dimension.expanded / per_unit);
    return {r.value_text + " " + unit, r.expanded_text + " " + unit};
}

}  // namespace stripbook::print
