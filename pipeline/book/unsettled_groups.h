// Photos that wait for a person, in groups that one decision settles. A group's number is given once and
// never again, so that a printed sheet stays true: a group only ever loses photos, and its suggestions keep
// their letters.
#pragma once

#include <compare>
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

struct GroupNumber {
    std::int64_t value = 0;
    [[nodiscard]] std::string text() const { return "group " + std::to_string(value); }
    auto operator<=>(const GroupNumber&) const = default;
};

enum class GroupState {
    open,     ///< waits for a person
    settled,  ///< a person decided
    apart,    ///< a person said that it is not one: its photos have new numbers
    gone,     ///< none of its photos waits any more; it comes back when one does again
};

/// A part that a group may belong to, and how probable that is where it was worked out.
struct Suggested {
    number::TagNumber tag;
    std::optional<double> chance;
    bool operator==(const Suggested&) const = default;
};

struct GroupSuggestion {
    char letter = 'a';  ///< 'a' was the best when the group got its number
    number::TagNumber tag;
    std::optional<int> rank;  ///< 1: the best now; nothing: no longer suggested
    std::optional<double> chance;
};

struct UnsettledGroup {
    GroupNumber number;
    GroupState state = GroupState::open;
    std::string why;
    std::vector<PhotoNumber> photos;           ///< that it holds (or held when it ended), as they were taken
    std::vector<PhotoNumber> left;             ///< that were in it and wait no more
    std::vector<GroupSuggestion> suggestions;  ///< by letter
    std::string decision;                      ///< what a person decided: a tag number, "no part", or empty
    std::string ended_at;                      ///< UTC, RFC 3339; empty while it is open
    std::string ended_by;

    /// The best suggestion now, if there is one.
    [[nodiscard]] const GroupSuggestion* best() const;
};

/// The word that stands for "belongs to no part" in UnsettledGroup::decision.
inline constexpr const char* no_part = "no part";

std::vector<UnsettledGroup> open_groups(const Book& book);  ///< by number
std::optional<UnsettledGroup> find_group(const Book& book, GroupNumber number);
GroupNumber highest_group(const Book& book);  ///< 0: none was ever made

/// Whether a photo waits for a person without standing in a group: so in a book of an older format until its
/// photos are linked anew.
bool waits_without_group(const Book& book);

/// Which group a photo goes back to when it waits for a person: the last one that held it, unless a person
/// has settled that one or said that it is not one.
std::map<PhotoNumber, GroupNumber> groups_holding(const Book& book);

/// Photos before which a person cut a group.
std::set<PhotoNumber> group_cuts(const Book& book);

/// A group as linking found it.
struct FoundGroup {
    std::optional<GroupNumber> number;  ///< nothing: a new one
    std::vector<PhotoNumber> photos;    ///< as they were taken
    std::string why;
    std::vector<Suggested> suggestions;  ///< best first
};

/// Writes what linking found: open groups that are not among `found` are gone, new ones get the next numbers
/// in the order of `found`. What differs is history. Only differences are written.
void keep_groups(Book& book, const std::vector<FoundGroup>& found);

/// A person's decisions on an open group. The links themselves are said with link_by_person and
/// say_without_part; these keep what became of the group. Each throws WrongUse when the group is not open.
void settle_group(Book& book, GroupNumber number, const std::string& decision, const std::string& who);
/// Cuts it before each of these photos.
void take_group_apart(Book& book, GroupNumber number, const std::vector<PhotoNumber>& before,
                      const std::string& who);
/// Opens a settled group again. Throws WrongUse when it is not settled.
void reopen_group(Book& book, GroupNumber number, const std::string& who);

/// Fewest decisions first: the group that settles most photos comes first, then by number.
void most_photos_first(std::vector<UnsettledGroup>& groups);

/// "p12-p15, p18" of photos in any order.
std::string photo_list(std::vector<PhotoNumber> photos);

}  // namespace stripbook::book
