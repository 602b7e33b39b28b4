#include "typed_words.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/inspection_csv.h"
#include "book/number_text.h"
#include "book/paths.h"
#include "book/tag_meanings.h"
#include "errors.h"
#include "number/decimal_text.h"
#include "print_job.h"

namespace stripbook::cli {

std::string typed_day(const std::string& text, const std::string& option) {
    if (text == "today") {
        return today();
    }
    if (!book::is_date(text)) {
        throw WrongUse(
            fmt::format("{} {}: write the day as 2026-11-25, or today", option, book::printable_name(text)));
    }
    return text;
}

int typed_whole(const std::string& text, const std::string& option) {
    const auto value = book::whole_from(text);
    if (!value) {
        throw WrongUse(
            fmt::format("{} {}: write a whole number, for example 12", option, book::printable_name(text)));
    }
    return *value;
}

double typed_hours(const std::string& text) {
    const std::string small = book::in_small_letters(book::without_outer_spaces(text));
    const bool has_unit = !small.empty() && small.back() == 'h';
    const auto amount = has_unit ? book::without_outer_spaces(small.substr(0, small.size() - 1)) : small;
    return number::decimal_from_typed(amount).value();
}

std::vector<number::TagNumber> typed_tags(const book::Book& book, const std::vector<std::string>& texts) {
    std::vector<number::TagNumber> tags;
    for (const auto& text : texts) {
        const auto tag = book::part_from_typed(book, text);
        if (std::find(tags.begin(), tags.end(), tag) == tags.end()) {
            tags.push_back(tag);
        }
    }
    return tags;
}

std::string as_one_text(const std::vector<std::string>& words) {
    return fmt::format("{}", fmt::join(words, " "));
}

}  // namespace stripbook::cli
