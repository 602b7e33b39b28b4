#include "day/settle.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "book/links.h"
#include "book/parts.h"
#include "book/photos_without_part.h"
#include "book/print_runs.h"
#include "day/read_day.h"
#include "errors.h"

namespace stripbook::day {

namespace {

using book::Book;
using book::GroupState;
using book::PhotoNumber;
using book::UnsettledGroup;
using number::TagNumber;
using Kind = Decision::Kind;

constexpr const char* apart_word = "apart";
constexpr const char* back_word = "back";

UnsettledGroup known_group(const Book& book, book::GroupNumber number) {
    auto group = book::find_group(book, number);
    if (!group) {
        throw WrongUse(fmt::format("there is no {}", number.text()));
    }
    return *std::move(group);
}

std::map<PhotoNumber, std::set<TagNumber>> tags_of(const Book& book) {
    std::map<PhotoNumber, std::set<TagNumber>> tags;
    for (const auto& link : book::all_links(book)) {
        tags[link.photo].insert(link.tag);
    }
    return tags;
}

std::set<book::GroupNumber> pieces_of(const Book& book, const UnsettledGroup& group) {
    const auto holding = book::groups_holding(book);
    std::set<book::GroupNumber> pieces;
    for (const auto& photo : group.photos) {
        if (const auto it = holding.find(photo); it != holding.end()) {
            pieces.insert(it->second);
        }
    }
    return pieces;
}

const book::GroupSuggestion& suggestion(const UnsettledGroup& group, char letter) {
    const auto& all = group.suggestions;
    const auto it = std::find_if(all.begin(), all.end(),
                                 [&](const book::GroupSuggestion& s) { return s.letter == letter; });
    if (all.empty()) {
        throw WrongUse(
            fmt::format("{} has no suggestion: type the part's tag, none or apart", group.number.text()));
    }
    if (it == all.end()) {
        throw WrongUse(all.size() == 1 ? fmt::format("{} has one suggestion, a", group.number.text())
                                       : fmt::format("{} has the suggestions a to {}", group.number.text(),
                                                     all.back().letter));
    }
    return *it;
}

// What a person who saw the group's first suggestion, on paper or on the screen, means with yes.
TagNumber first_suggestion(const UnsettledGroup& group) {
    const auto& first = suggestion(group, 'a');
    const auto* best = group.best();
    if (group.state == GroupState::open && best != &first) {
        throw WrongUse(fmt::format(
            "{}: its best suggestion was {}, and is {} now: say which with stripbook settle {} a{}",
            group.number.text(), first.tag.text(), best != nullptr ? best->tag.text() : "none",
            group.number.value, best != nullptr ? fmt::format(" or {}", best->letter) : ""));
    }
    return first.tag;
}

void check_part(const Book& book, const UnsettledGroup& group, const TagNumber& tag) {
    if (tag.book() != book.code()) {
        throw WrongUse(fmt::format("{} belongs to book {}, this is book {}", tag.text(), tag.book().text(),
                                   book.code().text()));
    }
    const auto& all = group.suggestions;
    const bool suggested =
        std::any_of(all.begin(), all.end(), [&](const book::GroupSuggestion& s) { return s.tag == tag; });
    if (!suggested && !book::find_part(book, tag) && book::printed_numbers(book).count(tag) == 0) {
        throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
    }
}

// The part that a decision names, if it names one.
std::optional<TagNumber> part_named(const Book& book, const UnsettledGroup& group, const Decision& decision) {
    switch (decision.kind) {
        case Kind::yes:
            return first_suggestion(group);
        case Kind::suggestion:
            return suggestion(group, decision.letter).tag;
        case Kind::part:
            check_part(book, group, *decision.tag);
            return decision.tag;
        default:
            return std::nullopt;
    }
}

// Whether a group that waits no more has come to what is ordered, so that nothing is left to do.
bool has_come_about(const Book& book, const UnsettledGroup& group, const Decision& decision,
                    const std::optional<TagNumber>& tag) {
    switch (group.state) {
        case GroupState::settled:
            return group.decision == (tag ? tag->text() : decision.kind == Kind::none ? book::no_part : "");
        case GroupState::apart:
            return decision.kind == Kind::apart && decision.cut_before.empty();
        case GroupState::gone: {
            const auto tags = tags_of(book);
            return tag && std::all_of(group.left.begin(), group.left.end(), [&](const PhotoNumber& photo) {
                       const auto own = tags.find(photo);
                       return own != tags.end() && own->second.count(*tag) != 0;
                   });
        }
        default:
            return false;
    }
}

void give_to_part(Book& book, const UnsettledGroup& group, const TagNumber& tag, const std::string& who) {
    book::add_seen_part(book, tag, group.photos.front(), who);
    for (const auto& photo : group.photos) {
        book::link_by_person(book, photo, tag, who);
    }
    book::settle_group(book, group.number, tag.text(), who);
}

void give_to_none(Book& book, const UnsettledGroup& group, const std::string& who) {
    for (const auto& photo : group.photos) {
        book::say_without_part(book, photo, who);
    }
    book::settle_group(book, group.number, book::no_part, who);
}

void take_apart(Book& book, const UnsettledGroup& group, const std::vector<PhotoNumber>& typed,
                const std::string& who) {
    if (group.photos.size() < 2) {
        throw WrongUse(fmt::format("{} is one photo: it cannot be taken apart", group.number.text()));
    }
    for (const auto& photo : typed) {
        if (std::find(group.photos.begin() + 1, group.photos.end(), photo) == group.photos.end()) {
            throw WrongUse(
                fmt::format("{} cannot be cut before {}: it holds {}, and the cut goes before one "
                            "of them but the first",
                            group.number.text(), photo.text(), book::photo_list(group.photos)));
        }
    }
    book::take_group_apart(
        book, group.number,
        typed.empty() ? std::vector<PhotoNumber>(group.photos.begin() + 1, group.photos.end()) : typed, who);
}

void take_back(Book& book, const UnsettledGroup& group, const std::string& who) {
    if (group.state != GroupState::settled) {
        throw WrongUse(
            group.state == GroupState::open
                ? fmt::format("{} is not settled: there is nothing to take back", group.number.text())
                : ending_words(book, group) + "; that cannot be taken back");
    }
    for (const auto& photo : group.photos) {
        if (group.decision == book::no_part) {
            book::take_back_without_part(book, photo, who);
        } else {
            book::take_back_link(book, photo, TagNumber::from_typed(group.decision, book.code()), who);
        }
    }
    book::reopen_group(book, group.number, who);
}

Settled carry_out(Book& book, const Order& order, const std::string& who) {
    const UnsettledGroup group = known_group(book, order.group);
    Settled settled{group.number, "", group.photos, group.left, {}, false};
    if (order.decision.kind == Kind::back) {
        settled.decision = back_word;
        take_back(book, group, who);
        return settled;
    }
    const auto tag = part_named(book, group, order.decision);
    settled.decision = tag ? tag->text() : order.decision.kind == Kind::none ? book::no_part : apart_word;
    if (group.state != GroupState::open) {
        if (!has_come_about(book, group, order.decision, tag)) {
            throw WrongUse(ending_words(book, group));
        }
        settled.as_it_was = true;
        settled.photos = group.photos.empty() ? group.left : group.photos;
        settled.left = {};
    } else if (tag) {
        give_to_part(book, group, *tag, who);
    } else if (order.decision.kind == Kind::none) {
        give_to_none(book, group, who);
    } else {
        take_apart(book, group, order.decision.cut_before, who);
    }
    return settled;
}

std::string links_in_words(const Book& book, const std::vector<PhotoNumber>& photos) {
    const auto tags = tags_of(book);
    const auto none = book::photos_without_part(book);
    std::map<std::string, std::vector<PhotoNumber>> by_what;
    for (const auto& photo : photos) {
        const auto own = tags.find(photo);
        std::vector<std::string> names;
        if (own != tags.end()) {
            std::transform(own->second.begin(), own->second.end(), std::back_inserter(names),
                           [](const TagNumber& tag) { return tag.text(); });
        }
        by_what[!names.empty()           ? fmt::format("{}", fmt::join(names, " and "))
                : none.count(photo) != 0 ? book::no_part
                                         : "another group"]
            .push_back(photo);
    }
    std::vector<std::string> words;
    for (const auto& [what, own] : by_what) {
        words.push_back(fmt::format("{} to {}", book::photo_list(own), what));
    }
    return fmt::format("{}", fmt::join(words, ", "));
}

}  // namespace

std::vector<Settled> settle(Book& book, const std::vector<Order>& orders, const std::string& who) {
    std::vector<Settled> all;
    book.together([&] {
        all.clear();
        for (const auto& order : orders) {
            all.push_back(carry_out(book, order, who));
        }
        link_all(book);
        for (auto& settled : all) {
            if (settled.decision == apart_word) {
                const auto pieces = pieces_of(book, known_group(book, settled.group));
                settled.pieces.assign(pieces.begin(), pieces.end());
            }
        }
    });
    return all;
}

std::string ending_words(const Book& book, const UnsettledGroup& group) {
    const std::string day = group.ended_at.substr(0, group.ended_at.find('T'));
    switch (group.state) {
        case GroupState::settled:
            return fmt::format("{} was settled on {} by {}: {}", group.number.text(), day, group.ended_by,
                               group.decision);
        case GroupState::apart: {
            std::vector<std::string> pieces;
            for (const auto& piece : pieces_of(book, group)) {
                pieces.push_back(piece.text());
            }
            return fmt::format("{} was taken apart on {} by {}: its photos {}", group.number.text(), day,
                               group.ended_by,
                               pieces.empty() ? "belong, " + links_in_words(book, group.photos)
                                              : fmt::format("wait as {}", fmt::join(pieces, ", ")));
        }
        case GroupState::gone:
            return fmt::format("{} waits no more since {}: its photos belong, {}", group.number.text(), day,
                               links_in_words(book, group.left));
        default:
            return fmt::format("{} waits for a person", group.number.text());
    }
}

}  // namespace stripbook::day
