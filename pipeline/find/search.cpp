#include "find/search.h"

#include <utf8proc.h>

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <memory>
#include <optional>
#include <sstream>

#include "book/parts.h"
#include "errors.h"

namespace stripbook::find {

namespace {

using book::Part;

std::vector<std::string> folded_words(const std::vector<std::string>& typed) {
    std::vector<std::string> words;
    for (const auto& text : typed) {
        std::istringstream in(folded(text));
        for (std::string word; in >> word;) {
            words.push_back(word);
        }
    }
    return words;
}

std::string everything_said_of(const Part& part) {
    std::string text = part.tag.text();
    for (const auto* field :
         {&part.name, &part.assembly, &part.place, &part.storage, &part.condition, &part.path}) {
        text += '\n' + *field;
    }
    for (const auto& [heading, cell] : part.notes) {
        text += '\n' + cell;
    }
    return folded(text);
}

bool holds_all(const std::string& text, const std::vector<std::string>& words) {
    return std::all_of(words.begin(), words.end(),
                       [&](const std::string& word) { return text.find(word) != std::string::npos; });
}

std::ptrdiff_t words_in(const std::string& text, const std::vector<std::string>& words) {
    return std::count_if(words.begin(), words.end(),
                         [&](const std::string& word) { return text.find(word) != std::string::npos; });
}

bool looks_like_a_tag(const std::string& text) {
    return std::any_of(text.begin(), text.end(), [](unsigned char c) { return std::isdigit(c) != 0; });
}

// The part of a tag number typed as one word; a word that is no tag number gives nothing.
std::optional<Part> by_tag(const book::Book& book, const std::vector<std::string>& typed) {
    if (typed.size() != 1 || !looks_like_a_tag(typed[0])) {
        return std::nullopt;
    }
    try {
        return book::find_part(book, number::TagNumber::from_typed(typed[0], book.code()));
    } catch (const WrongUse&) {
        // "PET-00417-E" is a tag typed wrongly and must not turn into a search that finds nothing.
        const auto hyphen = typed[0].find('-');
        if (hyphen != std::string::npos && folded(typed[0].substr(0, hyphen)) == folded(book.code().text())) {
            throw;
        }
        return std::nullopt;
    }
}

}  // namespace

std::string folded(const std::string& text) {
    utf8proc_uint8_t* out = nullptr;
    constexpr auto options = static_cast<utf8proc_option_t>(
        UTF8PROC_STABLE | UTF8PROC_DECOMPOSE | UTF8PROC_COMPAT | UTF8PROC_CASEFOLD | UTF8PROC_STRIPMARK);
    const auto length = utf8proc_map(reinterpret_cast<const utf8proc_uint8_t*>(text.data()),
                                     static_cast<utf8proc_ssize_t>(text.size()), &out, options);
    const std::unique_ptr<utf8proc_uint8_t, decltype(&std::free)> owned(out, &std::free);
    if (length < 0) {
        return text;  // not UTF-8: compared as it is
    }
    return {reinterpret_cast<const char*>(out), static_cast<std::size_t>(length)};
}

std::vector<Part> find_parts(const book::Book& book, const std::vector<std::string>& typed) {
    if (const auto part = by_tag(book, typed)) {
        return {*part};
    }
    const auto words = folded_words(typed);
    if (words.empty()) {
        return {};
    }
    std::vector<Part> found;
    for (auto& part : book::all_parts(book)) {
        if (holds_all(everything_said_of(part), words)) {
            found.push_back(std::move(part));
        }
    }
    std::stable_sort(found.begin(), found.end(), [&](const Part& a, const Part& b) {
        return words_in(folded(a.name), words) > words_in(folded(b.name), words);
    });
    return found;
}

}  // namespace stripbook::find
