#include "book/parts_tree.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "book/number_text.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

using number::TagNumber;

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool parts_levels(std::string_view text, std::size_t at) {
    const bool in_fraction =
        at > 0 && at + 1 < text.size() && is_digit(text[at - 1]) && is_digit(text[at + 1]);
    return text[at] == '/' && !in_fraction;
}

std::map<TagNumber, Part> parts_by_tag(const Book& book) {
    std::map<TagNumber, Part> parts;
    for (auto& part : all_parts(book)) {
        parts.emplace(part.tag, std::move(part));
    }
    return parts;
}

// `assembly` with `from` at its beginning replaced by `to`.
std::string moved_assembly(const std::string& assembly, const std::string& from, const std::string& to) {
    auto levels = assembly_levels(to);
    const auto before = assembly_levels(assembly);
    const auto skipped = static_cast<std::ptrdiff_t>(assembly_levels(from).size());
    levels.insert(levels.end(), before.begin() + skipped, before.end());
    return assembly_of(levels);
}

class Mover {
  public:
    Mover(Book& book, const Move& move) : parts_(parts_by_tag(book)), tree_(parts_), move_(move) {}

    void move(const TagNumber& tag) {
        Part& part = known(tag);
        const std::string from = part.assembly;
        if (move_.under) {
            part.parent = move_.under;
        } else if (move_.from_nothing) {
            part.parent.reset();
        }
        tree_.set(tag, part.parent);
        if (const auto wrong = tree_.fault_at(tag)) {
            throw WrongUse(*wrong + "; nothing was moved");
        }
        changed_.insert(tag);
        if (move_.to_assembly || move_.under) {
            const std::string to = move_.to_assembly ? *move_.to_assembly : known(*move_.under).assembly;
            move_with_what_was_taken_from_it(tag, from, to);
        }
    }

    [[nodiscard]] const std::set<TagNumber>& changed() const { return changed_; }
    [[nodiscard]] const Part& part(const TagNumber& tag) const { return parts_.at(tag); }

  private:
    Part& known(const TagNumber& tag) {
        const auto found = parts_.find(tag);
        if (found == parts_.end()) {
            throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
        }
        return found->second;
    }

    void move_with_what_was_taken_from_it(const TagNumber& tag, const std::string& from,
                                          const std::string& to) {
        known(tag).assembly = assembly_of(assembly_levels(to));
        for (const auto& child : tree_.taken_from(tag)) {
            Part& part = known(child);
            if (lies_within(part.assembly, from)) {
                part.assembly = moved_assembly(part.assembly, from, to);
                changed_.insert(child);
            }
        }
    }

    std::map<TagNumber, Part> parts_;
    ParentTree tree_;
    const Move& move_;
    std::set<TagNumber> changed_;
};

}  // namespace

std::vector<std::string> assembly_levels(std::string_view assembly) {
    std::vector<std::string> levels;
    std::string level;
    const auto end_level = [&] {
        if (auto clean = without_outer_spaces(level); !clean.empty()) {
            levels.push_back(std::move(clean));
        }
        level.clear();
    };
    for (std::size_t i = 0; i < assembly.size(); ++i) {
        if (parts_levels(assembly, i)) {
            end_level();
        } else {
            level += assembly[i];
        }
    }
    end_level();
    return levels;
}

std::string assembly_of(const std::vector<std::string>& levels) {
    return fmt::format("{}", fmt::join(levels, " / "));
}

bool lies_within(std::string_view assembly, std::string_view whole) {
    const auto inner = assembly_levels(in_small_letters(assembly));
    const auto outer = assembly_levels(in_small_letters(whole));
    return inner.size() >= outer.size() && std::equal(outer.begin(), outer.end(), inner.begin());
}

ParentTree::ParentTree(const std::map<TagNumber, Part>& parts) {
    for (const auto& [tag, part] : parts) {
        parents_.emplace(tag, part.parent);
    }
}

void ParentTree::set(const TagNumber& tag, const std::optional<TagNumber>& parent) {
    parents_.insert_or_assign(tag, parent);
}

std::optional<std::string> ParentTree::fault_at(const TagNumber& tag) const {
    std::string way = tag.text();
    std::set<TagNumber> passed{tag};
    std::optional<TagNumber> at = parents_.at(tag);
    while (at) {
        const auto above = parents_.find(*at);
        if (above == parents_.end()) {
            return fmt::format("the parent {} is no part of this book: look at its tag again", at->text());
        }
        way += " from " + at->text();
        if (!passed.insert(*at).second) {
            return fmt::format("this goes round in a circle: {}", way);
        }
        at = above->second;
    }
    return std::nullopt;
}

std::vector<TagNumber> ParentTree::taken_from(const TagNumber& tag) const {
    std::vector<TagNumber> found;
    std::set<TagNumber> reached{tag};
    for (std::size_t before = 0; before != reached.size();) {
        before = reached.size();
        for (const auto& [child, parent] : parents_) {
            if (parent && reached.contains(*parent) && reached.insert(child).second) {
                found.push_back(child);
            }
        }
    }
    return found;
}

std::vector<TagNumber> move_parts(Book& book, const std::vector<TagNumber>& tags, const Move& move,
                                  const std::string& who) {
    check_typed_text(move.to_assembly.value_or(""), "assembly");
    std::vector<TagNumber> changed;
    book.together([&] {
        Mover mover(book, move);
        for (const auto& tag : tags) {
            mover.move(tag);
        }
        for (const auto& tag : mover.changed()) {
            save_part(book, mover.part(tag), who, "parts move");
            changed.push_back(tag);
        }
    });
    return changed;
}

std::vector<TagNumber> move_assembly(Book& book, const std::string& from, const std::string& to,
                                     const std::string& who) {
    check_typed_text(to, "assembly");
    std::vector<TagNumber> changed;
    book.together([&] {
        for (auto part : all_parts(book)) {
            if (!assembly_levels(from).empty() && lies_within(part.assembly, from)) {
                part.assembly = moved_assembly(part.assembly, from, to);
                save_part(book, part, who, "parts move");
                changed.push_back(part.tag);
            }
        }
    });
    if (changed.empty()) {
        throw WrongUse(fmt::format("no part lies in the assembly \"{}\": see stripbook parts list",
                                   printable_name(from)));
    }
    return changed;
}

}  // namespace stripbook::book
