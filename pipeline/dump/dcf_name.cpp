#include "dump/dcf_name.h"

#include <algorithm>
#include <string_view>

#include "dump/plain_letters.h"

namespace stripbook::dump {

namespace {

bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

bool is_free_character(char c) {
    return is_digit(c) || (c >= 'A' && c <= 'Z') || (c >= 'a' && c <= 'z') || c == '_';
}

bool all_free(std::string_view text) {
    return std::all_of(text.begin(), text.end(), is_free_character);
}

// -1 when it is no number.
int number_of(std::string_view digits) {
    if (!std::all_of(digits.begin(), digits.end(), is_digit)) {
        return -1;
    }
    int value = 0;
    for (const char c : digits) {
        value = 10 * value + (c - '0');
    }
    return value;
}

int directory_number(std::string_view folder) {
    if (folder.size() != 8 || !all_free(folder)) {
        return 0;
    }
    const int number = number_of(folder.substr(0, 3));
    return number >= 100 ? number : 0;
}

int counter_number(std::string_view file) {
    // The standard's extension has three characters; phones keep to the rest of it and write four (HEIC).
    const bool right_length = file.size() == 12 || file.size() == 13;
    if (!right_length || file[8] != '.' || !all_free(file.substr(0, 8)) || !all_free(file.substr(9))) {
        return 0;
    }
    return std::max(0, number_of(file.substr(4, 4)));
}

}  // namespace

void dcf_numbers(const std::string& name, int& directory, int& counter) {
    directory = 0;
    counter = 0;
    const std::string_view whole = name;
    const auto first = whole.find('/');
    const auto second = first == std::string_view::npos ? first : whole.find('/', first + 1);
    if (second == std::string_view::npos || whole.find('/', second + 1) != std::string_view::npos) {
        return;
    }
    if (in_small_letters(whole.substr(0, first)) != "dcim") {
        return;
    }
    directory = directory_number(whole.substr(first + 1, second - first - 1));
    if (directory != 0) {
        counter = counter_number(whole.substr(second + 1));
    }
}

}  // namespace stripbook::dump
