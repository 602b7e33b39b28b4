#include "dump/stored_names.h"

#include <clocale>
#include <cwctype>
#include <memory>
#include <type_traits>
#include <utility>
#include <vector>

#include "book/originals.h"
#include "book/paths.h"

namespace stripbook::dump {

namespace {

// Far below the 4096 of Linux, so that the book can lie deep itself.
constexpr std::size_t most_path_bytes = 1000;

struct FreeLocale {
    void operator()(locale_t locale) const { freelocale(locale); }
};
using Locale = std::unique_ptr<std::remove_pointer_t<locale_t>, FreeLocale>;

// A fixed table of letters, not the person's locale: a book must fold alike everywhere. C.UTF-8 is part of
// the C library.
locale_t letters() {
    static const Locale locale(newlocale(LC_CTYPE_MASK, "C.UTF-8", nullptr));
    return locale.get();
}

bool continues_character(char c) {
    return (static_cast<unsigned char>(c) & 0xC0U) == 0x80U;
}

// The character that starts at `at`, and how many bytes it has. `text` is valid UTF-8.
std::pair<char32_t, std::size_t> character_at(const std::string& text, std::size_t at) {
    const auto first = static_cast<unsigned char>(text[at]);
    std::size_t length = 1;
    while (at + length < text.size() && continues_character(text[at + length])) {
        ++length;
    }
    char32_t value = first;
    if (length > 1) {
        value = first & (0xFFU >> (length + 1));
    }
    for (std::size_t i = 1; i < length; ++i) {
        value = (value << 6U) | (static_cast<unsigned char>(text[at + i]) & 0x3FU);
    }
    return {value, length};
}

std::vector<std::string> components_of(const std::string& path) {
    std::vector<std::string> components;
    std::size_t start = 0;
    for (;;) {
        const auto slash = path.find('/', start);
        components.push_back(path.substr(start, slash - start));
        if (slash == std::string::npos) {
            return components;
        }
        start = slash + 1;
    }
}

// "A0001.JPG", 2 -> "A0001 (2).JPG"
std::string numbered(const std::string& name, int copy) {
    if (copy == 1) {
        return name;
    }
    const std::string number = " (" + std::to_string(copy) + ")";
    const auto dot = name.rfind('.');
    if (dot == std::string::npos || dot == 0) {
        return name + number;
    }
    return name.substr(0, dot) + number + name.substr(dot);
}

// The name's folders and file as they can be kept. A path too long to keep loses its folders, not its file.
std::vector<std::string> kept_components(const std::string& name_on_card) {
    std::vector<std::string> components = components_of(book::keepable_name(name_on_card));
    std::size_t whole = 0;
    for (const auto& component : components) {
        whole += component.size() + 1;
    }
    if (whole > most_path_bytes) {
        components.erase(components.begin(), components.end() - 1);
    }
    return components;
}

}  // namespace

std::u32string with_case_folded(const std::string& name) {
    std::u32string folded;
    for (std::size_t at = 0; at < name.size();) {
        const auto [character, length] = character_at(name, at);
        // Up and down again: some letters have two small forms and one capital.
        const auto small = towlower_l(towupper_l(static_cast<wint_t>(character), letters()), letters());
        folded += static_cast<char32_t>(small);
        at += length;
    }
    return folded;
}

StoredNames::StoredNames(const book::Book& book, book::DumpId dump, FileDoor& door)
    : book_(book), dump_(dump), door_(door) {}

std::string StoredNames::choose(const std::string& name_on_card) {
    const std::vector<std::string> components = kept_components(name_on_card);
    std::string path = book::dump_folder(dump_.value);
    for (std::size_t i = 0; i + 1 < components.size(); ++i) {
        path = folder_for(path, components[i]);
    }
    path += "/";
    int& copy = last_copy_[with_case_folded(path + components.back())];
    do {
        ++copy;
    } while (!is_free(path + numbered(components.back(), copy)));
    path += numbered(components.back(), copy);
    note(path);
    return path;
}

std::string StoredNames::folder_for(const std::string& above, const std::string& name) const {
    int copy = 1;
    while (files_.count(with_case_folded(above + "/" + numbered(name, copy))) != 0) {
        ++copy;
    }
    return above + "/" + numbered(name, copy);
}

bool StoredNames::is_free(const std::string& path) const {
    const std::u32string folded = with_case_folded(path);
    return files_.count(folded) == 0 && folders_.count(folded) == 0 && !door_.look(book_.folder() / path) &&
           !book::stored_path_in_use(book_, path);
}

void StoredNames::note(const std::string& path) {
    files_.insert(with_case_folded(path));
    for (auto slash = path.find('/'); slash != std::string::npos; slash = path.find('/', slash + 1)) {
        folders_.insert(with_case_folded(path.substr(0, slash)));
    }
}

}  // namespace stripbook::dump
