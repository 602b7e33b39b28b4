#include "day/settle_words.h"

#include <fmt/format.h>

#include <set>

#include "book/number_text.h"
#include "book/paths.h"
#include "errors.h"

namespace stripbook::day {

namespace {

using book::GroupNumber;
using book::PhotoNumber;

constexpr const char* decisions =
    "yes (its best suggestion), a suggestion's letter, a tag, none, apart or back";

std::vector<std::string> without_commas(const std::vector<std::string>& words) {
    std::vector<std::string> parts;
    for (const auto& word : words) {
        std::size_t start = 0;
        while (start <= word.size()) {
            const auto end = std::min(word.find(',', start), word.size());
            if (end > start) {
                parts.push_back(book::without_outer_spaces(word.substr(start, end - start)));
            }
            start = end + 1;
        }
    }
    return parts;
}

GroupNumber existing(int number, GroupNumber highest) {
    if (number < 1 || number > highest.value) {
        throw WrongUse(highest.value == 0
                           ? std::string("no photos wait for a person: there are no groups")
                           : fmt::format("there is no group {}: groups are 1 to {} (stripbook unsettled "
                                         "lists them)",
                                         number, highest.value));
    }
    return {number};
}

std::optional<PhotoNumber> photo_from_word(const std::string& word) {
    if (word.size() < 2 || (word[0] != 'p' && word[0] != 'P')) {
        return std::nullopt;
    }
    const auto number = book::whole_from(word.substr(1));
    return number ? std::optional(PhotoNumber{*number}) : std::nullopt;
}

// Reads the words from left to right.
class Reader {
  public:
    Reader(std::vector<std::string> words, const number::BookCode& here, GroupNumber highest)
        : words_(std::move(words)), here_(here), highest_(highest) {}

    std::vector<Order> read() {
        while (at_ < words_.size()) {
            if (is_last_number()) {
                give(part_of_bare_number());
            } else if (const auto groups = groups_from_word(words_[at_], highest_)) {
                add(*groups);
            } else {
                give(decision());
            }
        }
        if (!waiting_.empty()) {
            throw WrongUse(fmt::format("say what becomes of {}: {}", waiting_.front().text(), decisions));
        }
        if (orders_.empty()) {
            throw WrongUse("say which group and what becomes of it, for example: stripbook settle 3 5-9 yes");
        }
        return std::move(orders_);
    }

  private:
    [[nodiscard]] bool is_last_number() const {
        return at_ + 1 == words_.size() && !waiting_.empty() && book::whole_from(words_[at_]).has_value();
    }

    Decision part_of_bare_number() {
        const std::string& word = words_[at_++];
        if (*book::whole_from(word) <= highest_.value) {
            throw WrongUse(
                fmt::format("is {} a group or a part? Name a suggestion by its letter (b), a part "
                            "as {}-00417, and end with what becomes of the groups",
                            word, here_.text()));
        }
        return part(word);
    }

    [[nodiscard]] Decision part(const std::string& word) const {
        Decision decision;
        decision.kind = Decision::Kind::part;
        // What cannot be printed is no tag, and the refusal repeats the word.
        decision.tag = number::TagNumber::from_typed(book::printable_name(word), here_);
        return decision;
    }

    void add(const std::vector<GroupNumber>& groups) {
        ++at_;
        for (const auto& group : groups) {
            if (!named_.insert(group).second) {
                throw WrongUse(fmt::format("{} is named twice: say once what becomes of it", group.text()));
            }
            waiting_.push_back(group);
        }
    }

    void give(const Decision& decision) {
        if (waiting_.empty()) {
            throw WrongUse("say the group's number first, for example: stripbook settle 3 5-9 yes");
        }
        if (!decision.cut_before.empty() && waiting_.size() > 1) {
            throw WrongUse("a place to cut goes with one group, for example: stripbook settle 7 apart p31");
        }
        for (const auto& group : waiting_) {
            orders_.push_back({group, decision});
        }
        waiting_.clear();
    }

    Decision decision() {
        const std::string& typed = words_[at_++];
        const std::string word = book::in_small_letters(typed);
        Decision decision;
        if (word == "yes") {
            return decision;
        }
        if (word == "none") {
            decision.kind = Decision::Kind::none;
        } else if (word == "back") {
            decision.kind = Decision::Kind::back;
        } else if (word == "apart") {
            decision.kind = Decision::Kind::apart;
            decision.cut_before = places_to_cut();
        } else if (word.size() == 1 && word[0] >= 'a' && word[0] <= 'z') {
            decision.kind = Decision::Kind::suggestion;
            decision.letter = word[0];
        } else if (word.find_first_of("0123456789") == std::string::npos || photo_from_word(typed)) {
            throw WrongUse(fmt::format("\"{}\" says nothing about a group: say {}",
                                       book::printable_name(typed), decisions));
        } else {
            return part(typed);
        }
        return decision;
    }

    std::vector<PhotoNumber> places_to_cut() {
        std::vector<PhotoNumber> places;
        while (at_ < words_.size()) {
            const auto photo = photo_from_word(words_[at_]);
            if (!photo) {
                break;
            }
            places.push_back(*photo);
            ++at_;
        }
        return places;
    }

    std::vector<std::string> words_;
    const number::BookCode& here_;
    GroupNumber highest_;
    std::size_t at_ = 0;
    std::vector<GroupNumber> waiting_;
    std::set<GroupNumber> named_;
    std::vector<Order> orders_;
};

}  // namespace

std::optional<std::vector<GroupNumber>> groups_from_word(const std::string& word, GroupNumber highest) {
    const auto hyphen = word.find('-');
    const auto first = book::whole_from(word.substr(0, hyphen));
    const auto last = hyphen == std::string::npos ? first : book::whole_from(word.substr(hyphen + 1));
    if (!first || !last) {
        return std::nullopt;
    }
    existing(*first, highest);
    existing(*last, highest);
    if (*last < *first) {
        throw WrongUse(fmt::format("{} runs backwards: write {}-{}", word, *last, *first));
    }
    std::vector<GroupNumber> groups;
    for (int number = *first; number <= *last; ++number) {
        groups.push_back({number});
    }
    return groups;
}

std::vector<Order> orders_from_words(const std::vector<std::string>& words, const number::BookCode& here,
                                     GroupNumber highest) {
    return Reader(without_commas(words), here, highest).read();
}

}  // namespace stripbook::day
