// How probable it is to see what was seen in one photo, for each part it may belong to.
#pragma once

#include "link/learned.h"
#include "link/observed.h"

namespace stripbook::link {

/// Of a shot that is to show the part's tag, and of one that need not.
struct SeenChances {
    double in_tag_shot = 0;
    double elsewhere = 0;
};

/// `tag`: the part's; nullptr: a part whose tag was not read. `same_name`: the chance that a tag out of place
/// carries one given number.
SeenChances chances_of_seen(const Observed& seen, const number::TagNumber* tag, const Learned& learned,
                            double same_name);

/// That the tag belongs to the photo although the photo belongs to another part: two parts in one photo, and
/// not a neighbour's tag in the background.
double chance_of_second_part(const Observed& seen, const SeenTag& tag, const Learned& learned);

}  // namespace stripbook::link
