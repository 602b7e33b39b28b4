#include "print/dimension_words.h"

#include "measure/budget.h"
#include "number/length_text.h"

namespace stripbook::print {

ValueWords value_words(const book::DimensionRecord& dimension, bool inch) {
    double per_unit = 1;
    std::string unit = dimension.unit;
    if (inch) {
        per_unit = dimension.unit == "mm2" ? number::mm_per_inch * number::mm_per_inch : number::mm_per_inch;
        unit = dimension.unit == "mm2" ? "in2" : "in";
    }
    const auto r = measure::rounded(dimension.value / per_unit, dimension.expanded / per_unit);
    return {r.value_text + " " + unit, r.expanded_text + " " + unit};
}

}  // namespace stripbook::print
