// The printed sheet of photos that wait for a person: numbered groups with thumbnails, what is suggested,
// boxes to tick, and the command that enters the answer.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "book/records.h"
#include "book/unsettled_groups.h"
#include "photo/print_copy.h"
#include "print/pack.h"

namespace stripbook::print {

/// A part that a group may belong to, best first.
struct SuggestionOnSheet {
    book::GroupSuggestion suggestion;
    std::string name;                     ///< of the part; may be empty
    std::optional<book::Photo> tag_shot;  ///< a photo of its tag
};

struct GroupOnSheet {
    book::UnsettledGroup group;
    std::vector<book::Photo> photos;  ///< that it holds, as they were taken
    std::vector<SuggestionOnSheet> suggestions;
};

/// Long side of the largest thumbnail.
inline constexpr double thumbnail_mm = 34;

/// `copies`: of the groups' photos and the tag shots. What a picture cannot show is said in its place.
/// Throws WrongUse for an unknown paper, OutsideError when the PDF cannot be made.
Pack unsettled_sheet(const std::vector<GroupOnSheet>& groups,
                     const std::map<book::PhotoNumber, photo::PrintCopy>& copies, const std::string& machine,
                     const std::string& paper, const PackOptions& options);

/// "likely, about 71 %"; without a chance "suggested". Never 0 or 100 %.
std::string chance_words(const std::optional<double>& chance);

/// "2026-03-20 09:00:00 to 09:02:10", by the camera's clock.
std::string time_span_words(const std::vector<book::Photo>& photos);

}  // namespace stripbook::print
