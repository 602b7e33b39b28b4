#include "find/search.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <optional>

#include "book/folded.h"
#include "book/parts.h"
#include "book/tag_meanings.h"
#include "book/word_index.h"
#include "errors.h"

namespace stripbook::find {

namespace {

using book::Part;

bool looks_like_a_tag(const std::string& text) {
    return std::any_of(text.begin(), text.end(), [](unsigned char c) { return std::isdigit(c) != 0; });
}

// The part of a tag number typed as one word; a word that is no tag number gives nothing.
std::optional<Part> by_tag(const book::Book& book, const std::vector<std::string>& typed) {
    if (typed.size() != 1 || !looks_like_a_tag(typed[0])) {
        return std::nullopt;
    }
    try {
        return book::find_part(book, book::part_from_typed(book, typed[0]));
    } catch (const WrongUse&) {
        // "PET-00417-E" is a tag typed wrongly and must not turn into a search that finds nothing.
        const auto hyphen = typed[0].find('-');
        if (hyphen != std::string::npos &&
            book::folded(typed[0].substr(0, hyphen)) == book::folded(book.code().text())) {
            throw;
        }
        return std::nullopt;
    }
}

void check_path(const std::string& path) {
    if (!path.empty() &&
        std::find(book::path_words.begin(), book::path_words.end(), path) == book::path_words.end()) {
        throw WrongUse(
            fmt::format("\"{}\" is no path; the paths are: {}", path, fmt::join(book::path_words, ", ")));
    }
}

}  // namespace

Found find_parts(const book::Book& book, const Wanted& wanted) {
    check_path(wanted.path);
    if (const auto part = by_tag(book, wanted.typed)) {
        return {{*part}, 1};
    }
    const auto hits = book::find_words(book, {wanted.typed, wanted.place, wanted.assembly, wanted.path});
    Found found{{}, hits.all};
    for (const auto& tag : hits.tags) {
        if (auto part = book::find_part(book, tag)) {
            found.parts.push_back(*std::move(part));
        }
    }
    return found;
}

}  // namespace stripbook::find
