// What is dangerous about a part, and the usual cautions that go wherever the part is printed or shown.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// The kinds of hazard, in the order they are shown.
inline constexpr std::array<const char*, 7> hazard_kinds{
    "heavy", "under load", "asbestos", "lead paint", "fuel or oil", "sharp", "electrical"};

struct Hazard {
    std::string kind;               ///< one of hazard_kinds; under load: a spring, pressure or held weight
    std::optional<double> mass_kg;  ///< heavy only
    std::string note;               ///< lifting points, where it is, ...
    std::string at{};               ///< UTC, RFC 3339; set by set_hazard
    std::string who{};
};

/// The kind that a person's word means ("spring", "pressure", "oil", ...). Throws WrongUse naming the kinds.
std::string hazard_kind_from_typed(const std::string& word);

/// Sets a hazard of a part, or changes what is said of it. Throws WrongUse for an unknown part or kind, and
/// for a mass that cannot be.
void set_hazard(Book& book, const number::TagNumber& tag, const Hazard& hazard, const std::string& who);

/// Throws WrongUse when the part does not have it.
void take_back_hazard(Book& book, const number::TagNumber& tag, const std::string& kind,
                      const std::string& who);

/// In the order of hazard_kinds.
std::vector<Hazard> hazards_of(const Book& book, const number::TagNumber& tag);

/// "heavy, 180 kg: lift at both lugs".
std::string hazard_words(const Hazard& hazard);

/// One line a hazard for whoever handles the part, and that local codes and licensed practice come first.
/// Empty when there is no hazard. The cautions are common practice, no source.
std::vector<std::string> cautions_for(const std::vector<Hazard>& hazards);
/// The same without the line on codes and practice, for where that stands once for several parts.
std::vector<std::string> bare_cautions_for(const std::vector<Hazard>& hazards);
std::vector<std::string> cautions_for(const Book& book, const number::TagNumber& tag);

}  // namespace stripbook::book
