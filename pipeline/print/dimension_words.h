// A dimension in words, for the terminal and the report.
#pragma once

#include <string>

#include "book/judged_features.h"
#include "book/measurements.h"

namespace stripbook::print {

using book::dimension_name;

struct ValueWords {
    std::string value;     ///< "193.2 mm"
    std::string expanded;  ///< "0.3 mm"
};

/// Value and U rounded as the GUM advises (measure/budget.h); in inches where the book is in inches.
ValueWords value_words(const book::DimensionRecord& dimension, bool inch);

}  // namespace stripbook::print
