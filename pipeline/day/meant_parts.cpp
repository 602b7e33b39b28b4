#include "day/meant_parts.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/clock.h"

namespace stripbook::day {

namespace {

std::string why(const book::TagMeaning& meaning) {
    if (meaning.from_s == book::since_ever) {
        return fmt::format("; {} is the same part", meaning.tag.text());
    }
    return fmt::format("; the tag {} hangs on it since {}", meaning.tag.text(),
                       book::time_words(meaning.from_s).value_or(""));
}

// A tag that moved to a part which was merged later: the merge turned that meaning too, so one step does.
const book::TagMeaning* meaning_of(const std::string& text, const std::vector<book::TagMeaning>& meanings,
                                   double seconds) {
    const auto tag = number::TagNumber::from_exact(text);
    return tag ? book::meaning_at(meanings, *tag, seconds) : nullptr;
}

}  // namespace

std::vector<book::Sighting> with_meant_parts(std::vector<book::Sighting> sightings,
                                             const std::vector<book::TagMeaning>& meanings,
                                             double corrected_seconds) {
    if (meanings.empty()) {
        return sightings;
    }
    for (auto& seen : sightings) {
        if (seen.kind != book::SightingKind::tag) {
            continue;
        }
        if (const auto* meaning = meaning_of(seen.text, meanings, corrected_seconds)) {
            seen.text = meaning->part.text();
            seen.how += why(*meaning);
        }
        for (auto& suggestion : seen.suggestions) {
            if (const auto* meaning = meaning_of(suggestion, meanings, corrected_seconds)) {
                suggestion = meaning->part.text();
            }
        }
        std::vector<std::string> once;
        for (auto& suggestion : seen.suggestions) {
            if (std::find(once.begin(), once.end(), suggestion) == once.end()) {
                once.push_back(std::move(suggestion));
            }
        }
        seen.suggestions = std::move(once);
    }
    return sightings;
}

}  // namespace stripbook::day
