// A to Z without regard to case, whatever the locale; other bytes stay as they are.
#pragma once

#include <string>
#include <string_view>

namespace stripbook::dump {

inline std::string in_small_letters(std::string_view text) {
    std::string out(text);
    for (char& c : out) {
        if (c >= 'A' && c <= 'Z') {
            c = static_cast<char>(c - 'A' + 'a');
        }
    }
    return out;
}

}  // namespace stripbook::dump
