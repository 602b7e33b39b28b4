// Photos that need a person, in groups that one decision settles: fewer questions than photos.
//
//   A photo that was in a group goes back to it (so a printed sheet stays true). The others: a photo joins
//   the group of the photo that the same camera took just before when that one waits too, no more than the
//   link time lies between, and nothing speaks for another part: its own best suggestion is the group's, or
//   it has none. A photo with a tag that says no number of this book begins a group: whoever answers for the
//   photos before it has not answered for that tag. Videos are photos in this, where their place is known
//   (video_place.h). What does not decode, or was not looked at, stands alone, since nobody can say what it
//   shows; and a person's cut keeps two photos apart.
#pragma once

#include <map>
#include <set>
#include <vector>

#include "book/records.h"
#include "book/unsettled_groups.h"

namespace stripbook::link {

struct GroupRules {
    double link_time_s = 180;
    std::map<book::PhotoNumber, book::GroupNumber> held;  ///< by a group it goes back to
    std::set<book::PhotoNumber> cut_before;               ///< a person's cuts
    std::set<book::PhotoNumber> strange_tag;              ///< show a tag that is no part's as far as is known
    std::size_t most_suggestions = 3;
};

/// `photos`: the whole book's in any order. Known groups by number, then new ones in the order of their first
/// photo's number. A group's suggestions are ordered by their mean chance over those of its photos that have
/// suggestions; where chances were not worked out, by place.
std::vector<book::FoundGroup> groups_of(std::vector<book::Photo> photos,
                                        const std::vector<book::Unsettled>& unsettled,
                                        const GroupRules& rules);

}  // namespace stripbook::link
