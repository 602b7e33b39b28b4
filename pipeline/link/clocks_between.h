// How far one clock is ahead of another, from the tags that both saw.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "link/clocks_fit.h"

namespace stripbook::link {

struct TagMoment {
    std::string tag;
    double at_s = 0;
};

struct BetweenClocks {
    Ahead ahead;
    int tags = 0;  ///< that were seen by both in the same minutes
};

/// People photograph one part in the same minutes with several cameras: the differences of such moments pile
/// up at the difference of the clocks, all others spread over the day. Nothing when no pile stands out: fewer
/// than four tags (eight for a difference that no zone and no few minutes explain), or a second pile nearly
/// as high. The uncertainty is that of the pile's middle and half its spread besides: who comes first is a
/// habit.
std::optional<BetweenClocks> ahead_of_other(const std::vector<TagMoment>& clock,
                                            const std::vector<TagMoment>& other);

}  // namespace stripbook::link
