// Numbers as the command line gives them: `2` or `1.0:3.0`, independent of locale.
#pragma once

#include <opencv2/core.hpp>
#include <string>

#include "sample_maker/dice.h"

namespace stripbook::sample_maker {

struct Range {
    double low = 0;
    double high = 0;
    [[nodiscard]] double pick(Dice& dice) const { return dice.between(low, high); }
};

/// Throws WrongUse, naming `option`, when the text is not a number or two with a colon, the first not above
/// the second.
Range range_from(const std::string& text, const std::string& option);

/// `1600x1200`. Throws WrongUse.
cv::Size size_from(const std::string& text);

}  // namespace stripbook::sample_maker
