#include "book/completeness.h"

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "book/links.h"
#include "book/number_text.h"
#include "book/parts.h"
#include "book/parts_tree.h"

namespace stripbook::book {

namespace {

using Levels = std::vector<std::string>;

// "Axle 2" is one of several axles: its kind is "axle". Empty for a level without a number at its end.
std::string kind_of_level(const std::string& level) {
    const auto last = level.find_last_not_of("0123456789");
    if (last == std::string::npos || last + 1 == level.size()) {
        return "";
    }
    return in_small_letters(without_outer_spaces(level.substr(0, last + 1)));
}

// A part as it is counted.
struct Counted {
    Part part;
    Levels levels;
    int present = 0;
    bool seen = false;
};

std::vector<Counted> counted_parts(const Book& book) {
    std::vector<Counted> all;
    for (auto& part : all_parts(book)) {
        Counted counted{part, assembly_levels(part.assembly), 0, true};
        if (part.quantity_present) {
            counted.present = *part.quantity_present;
        } else {
            counted.seen = !part.storage.empty() || !links_of(book, part.tag).empty();
            counted.present = counted.seen ? 1 : 0;
        }
        all.push_back(std::move(counted));
    }
    return all;
}

// The way down to the first level of `kind`, with it; empty when there is none.
Levels down_to(const Levels& levels, const std::string& kind) {
    for (std::size_t i = 0; i < levels.size(); ++i) {
        if (kind_of_level(levels[i]) == kind) {
            return {levels.begin(), levels.begin() + static_cast<std::ptrdiff_t>(i) + 1};
        }
    }
    return {};
}

// All assemblies of that kind within `whole`, in the order of their names.
std::set<Levels> assemblies_of_kind(const std::vector<Counted>& all, const std::string& whole,
                                    const std::string& kind) {
    std::set<Levels> found;
    for (const auto& counted : all) {
        if (auto way = down_to(counted.levels, kind); !way.empty() && lies_within(assembly_of(way), whole)) {
            found.insert(std::move(way));
        }
    }
    return found;
}

class RollUp {
  public:
    RollUp(const std::vector<Counted>& all, std::vector<const Counted*> parts)
        : all_(all), parts_(std::move(parts)) {}

    Completeness of(const std::string& name, const std::string& assembly, int expected) const {
        Completeness result;
        result.name = name;
        result.assembly = assembly;
        result.expected = expected;
        for (const auto* counted : parts_) {
            result.present += counted->present;
            ++result.tagged;
            result.not_seen_yet += counted->seen ? 0 : 1;
            result.tags.push_back(counted->part.tag);
        }
        share_out(result);
        return result;
    }

  private:
    // Kinds of numbered level that all of the parts lie in, the innermost first.
    [[nodiscard]] std::vector<std::string> common_kinds() const {
        std::vector<std::string> kinds;
        if (parts_.empty()) {
            return kinds;
        }
        const auto& levels = parts_.front()->levels;
        for (auto level = levels.rbegin(); level != levels.rend(); ++level) {
            const std::string kind = kind_of_level(*level);
            const bool in_all = std::all_of(parts_.begin(), parts_.end(), [&](const Counted* counted) {
                return !down_to(counted->levels, kind).empty();
            });
            if (!kind.empty() && in_all) {
                kinds.push_back(kind);
            }
        }
        return kinds;
    }

    void share_out(Completeness& result) const {
        for (const auto& kind : common_kinds()) {
            const auto assemblies = assemblies_of_kind(all_, result.assembly, kind);
            const int count = static_cast<int>(assemblies.size());
            if (count >= 2 && result.expected > 0 && result.expected % count == 0) {
                result.each = kind;
                result.to_each = result.expected / count;
                result.short_in = short_assemblies(assemblies, result.to_each);
                return;
            }
        }
    }

    [[nodiscard]] std::vector<std::string> short_assemblies(const std::set<Levels>& assemblies,
                                                            int to_each) const {
        std::vector<std::string> found;
        for (const auto& assembly : assemblies) {
            int present = 0;
            for (const auto* counted : parts_) {
                present += lies_within(counted->part.assembly, assembly_of(assembly)) ? counted->present : 0;
            }
            if (present < to_each) {
                found.push_back(assembly_of(assembly) + ": " + std::to_string(present) + " of " +
                                std::to_string(to_each));
            }
        }
        return found;
    }

    const std::vector<Counted>& all_;
    std::vector<const Counted*> parts_;
};

// Where parts of one name are counted together: above the first numbered level.
std::string counted_in(const Levels& levels) {
    const auto numbered = std::find_if(
        levels.begin(), levels.end(), [](const std::string& level) { return !kind_of_level(level).empty(); });
    return assembly_of({levels.begin(), numbered});
}

bool fills(const Counted& counted, const Line& line) {
    return in_small_letters(counted.part.name) == in_small_letters(line.name) &&
           lies_within(counted.part.assembly, line.assembly);
}

// "spring" gives "springs"; a name with a comma or an "s" at its end is left alone.
std::string plural_of(const std::string& name) {
    const auto ends_with = [&name](const char* end) { return name.ends_with(end); };
    if (name.find(',') != std::string::npos || ends_with("s")) {
        return name;
    }
    if (ends_with("x") || ends_with("ch") || ends_with("sh")) {
        return name + "es";
    }
    constexpr std::string_view vowels = "aeiou";
    const bool turns =
        name.size() > 1 && ends_with("y") && vowels.find(name[name.size() - 2]) == std::string_view::npos;
    return turns ? name.substr(0, name.size() - 1) + "ies" : name + "s";
}

// "Axlebox spring" within a sentence; "AWS receiver" stays.
std::string within_a_sentence(std::string name) {
    const auto is_small = [](char c) { return c >= 'a' && c <= 'z'; };
    if (name.size() > 1 && name[0] >= 'A' && name[0] <= 'Z' && is_small(name[1])) {
        name[0] = static_cast<char>(name[0] - 'A' + 'a');
    }
    return name;
}

std::string count_word(int count) {
    constexpr std::array words{"no",    "one",   "two",  "three", "four",   "five",  "six",
                               "seven", "eight", "nine", "ten",   "eleven", "twelve"};
    return count >= 0 && count < static_cast<int>(words.size()) ? words.at(static_cast<std::size_t>(count))
                                                                : std::to_string(count);
}

}  // namespace

std::vector<Completeness> completeness(const Book& book) {
    const auto all = counted_parts(book);
    std::set<const Counted*> in_a_line;
    std::vector<Completeness> list;
    for (const auto& line : all_lines(book)) {
        std::vector<const Counted*> parts;
        for (const auto& counted : all) {
            if (fills(counted, line) && in_a_line.insert(&counted).second) {
                parts.push_back(&counted);
            }
        }
        list.push_back(RollUp(all, parts).of(line.name, line.assembly, line.quantity_expected));
    }
    std::map<std::pair<std::string, std::string>, std::vector<const Counted*>> alike;
    for (const auto& counted : all) {
        if (counted.part.quantity_expected && !in_a_line.contains(&counted)) {
            alike[{counted_in(counted.levels), in_small_letters(counted.part.name)}].push_back(&counted);
        }
    }
    for (const auto& [where, parts] : alike) {
        int expected = 0;
        for (const auto* counted : parts) {
            expected += *counted->part.quantity_expected;
        }
        list.push_back(RollUp(all, parts).of(parts.front()->part.name, where.first, expected));
    }
    std::stable_sort(list.begin(), list.end(), [](const Completeness& a, const Completeness& b) {
        return std::pair(assembly_levels(a.assembly), in_small_letters(a.name)) <
               std::pair(assembly_levels(b.assembly), in_small_letters(b.name));
    });
    return list;
}

std::string words_of(const Completeness& c) {
    const std::string name = within_a_sentence(c.name.empty() ? "part" : c.name);
    std::string words = std::to_string(c.expected) + " " + (c.expected == 1 ? name : plural_of(name));
    words += c.name.empty() ? " without a name expected" : " expected";
    if (!c.each.empty()) {
        const bool vowel = std::string_view("aeiou").find(c.each[0]) != std::string_view::npos;
        words += ", " + count_word(c.to_each) + " to " + (vowel ? "an " : "a ") + c.each;
    }
    words += ": " + std::to_string(c.present) + " present";
    if (c.not_seen_yet > 0) {
        words += ", " + std::to_string(c.not_seen_yet) + " tagged and not seen yet";
    }
    return words;
}

}  // namespace stripbook::book
