#include "day/other_tags.h"

#include <fmt/format.h>

#include <set>

#include "book/parts.h"
#include "book/paths.h"

namespace stripbook::day {

std::map<std::string, number::TagNumber> parts_by_other_tag(const book::Book& book) {
    std::map<std::string, number::TagNumber> parts;
    std::set<std::string> claimed_twice;
    for (const auto& part : book::all_parts(book)) {
        if (!part.other_tag.empty() && !parts.emplace(part.other_tag, part.tag).second) {
            claimed_twice.insert(part.other_tag);
        }
    }
    for (const auto& text : claimed_twice) {
        parts.erase(text);
    }
    return parts;
}

std::vector<book::Sighting> with_other_tags(std::vector<book::Sighting> sightings,
                                            const std::map<std::string, number::TagNumber>& parts) {
    for (auto& seen : sightings) {
        const auto part = seen.kind == book::SightingKind::other_code ? parts.find(seen.text) : parts.end();
        if (part != parts.end()) {
            seen.kind = book::SightingKind::tag;
            seen.how =
                fmt::format("{} of another maker's tag, {}", seen.how, book::printable_name(seen.text));
            seen.text = part->second.text();
            seen.other_maker = true;
            seen.by_qr = true;  // the code's own check held, and the parts list knows its text
        }
    }
    return sightings;
}

}  // namespace stripbook::day
