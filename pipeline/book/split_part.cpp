#include "book/split_part.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/hazards.h"
#include "book/history.h"
#include "book/links.h"
#include "book/parts.h"
#include "book/tag_meanings.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* how = "part split";

void check_new(const Book& book, const number::TagNumber& tag) {
    const auto known = find_part(book, tag);
    if (known && !(*known == Part(tag))) {
        throw WrongUse(
            fmt::format("{} is a part of its own already; give a tag that is not in use", tag.text()));
    }
    if (const auto other = merged_into(book, tag)) {
        throw WrongUse(fmt::format("{} means {}; give a tag that is not in use", tag.text(), other->text()));
    }
}

void share_quantity(const Split& split, Part& from, Part& to) {
    if (!split.quantity) {
        return;
    }
    if (*split.quantity < 1 || (from.quantity_present && *split.quantity > *from.quantity_present)) {
        throw WrongUse(fmt::format("{} are present under {}: {} cannot go under another tag",
                                   from.quantity_present.value_or(0), from.tag.text(), *split.quantity));
    }
    to.quantity_present = *split.quantity;
    if (from.quantity_present) {
        *from.quantity_present -= *split.quantity;
    }
    if (from.quantity_expected) {
        to.quantity_expected = std::min(*split.quantity, *from.quantity_expected);
        *from.quantity_expected -= *to.quantity_expected;
    }
}

}  // namespace

void split_part(Book& book, const Split& split, const std::string& who) {
    book.together([&] {
        Part from = part_or_refusal(book, split.from);
        if (split.from == split.to) {
            throw WrongUse("the new tag must be another one");
        }
        check_new(book, split.to);
        Part to(split.to);
        to.name = split.name.empty() ? from.name : split.name;
        to.assembly = from.assembly;
        to.place = from.place;
        to.parent = from.parent;
        to.listed = true;
        share_quantity(split, from, to);
        save_part(book, to, who, fmt::format("{} from {}", how, split.from.text()));
        save_part(book, from, who, how);
        // What was dangerous about the whole may be about either piece.
        for (const auto& hazard : hazards_of(book, split.from)) {
            set_hazard(book, split.to, hazard, who);
        }
        for (const auto& photo : split.photos) {
            link_by_person(book, photo, split.to, who);
            unlink_by_person(book, photo, split.from, who);
        }
        note_change(book, who, split.from.text(), "split", "", split.to.text() + " came from it", how);
    });
}

}  // namespace stripbook::book
