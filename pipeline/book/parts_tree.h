// The parts tree: assemblies of any depth, and what was taken from what.
//
// An assembly is text whose levels are parted by slashes: "Running gear / Axle 2 / Brake gear". A slash
// between two digits parts nothing ("Valve 1/2 in").
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// The levels from the machine down, without outer spaces and empty ones.
std::vector<std::string> assembly_levels(std::string_view assembly);

/// The levels as the book writes them: "Running gear / Axle 2".
std::string assembly_of(const std::vector<std::string>& levels);

/// Whether `assembly` is `whole` or lies within it; capitals are not told apart.
bool lies_within(std::string_view assembly, std::string_view whole);

/// Who was taken from whom.
class ParentTree {
  public:
    explicit ParentTree(const std::map<number::TagNumber, Part>& parts);
    void set(const number::TagNumber& tag, const std::optional<number::TagNumber>& parent);
    /// What is wrong at `tag`, in words: its parent is not known, or the way up comes back to it.
    [[nodiscard]] std::optional<std::string> fault_at(const number::TagNumber& tag) const;
    /// Everything taken from `tag`, and from that, and so on; without itself.
    [[nodiscard]] std::vector<number::TagNumber> taken_from(const number::TagNumber& tag) const;

  private:
    std::map<number::TagNumber, std::optional<number::TagNumber>> parents_;
};

/// Where parts are moved to: an assembly, a parent, or both. A parent alone brings its assembly along.
struct Move {
    std::optional<std::string> to_assembly;
    std::optional<number::TagNumber> under;
    bool from_nothing = false;  ///< the part was taken from no other part after all
};

/// Moves the parts, and what was taken from them and lies in the same assembly or within. Every change is
/// kept in the history. Returns the parts that changed. Throws WrongUse for an unknown part and for a circle,
/// named part by part.
std::vector<number::TagNumber> move_parts(Book& book, const std::vector<number::TagNumber>& tags,
                                          const Move& move, const std::string& who);

/// Renames an assembly, or moves it elsewhere, with everything in it. Throws WrongUse when no part lies in
/// it.
std::vector<number::TagNumber> move_assembly(Book& book, const std::string& from, const std::string& to,
                                             const std::string& who);

}  // namespace stripbook::book
