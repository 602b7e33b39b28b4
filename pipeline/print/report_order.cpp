#include "print/report_order.h"

#include <algorithm>
#include <cctype>
#include <string>

#include "book/parts_tree.h"

namespace stripbook::print {

namespace {

bool is_digit(char c) {
    return std::isdigit(static_cast<unsigned char>(c)) != 0;
}

// The number that begins here, without leading zeros, and the text is moved behind it.
std::string_view take_number(std::string_view& text) {
    std::size_t end = 0;
    while (end < text.size() && is_digit(text[end])) {
        ++end;
    }
    std::string_view number = text.substr(0, end);
    text.remove_prefix(end);
    number.remove_prefix(std::min(number.find_first_not_of('0'), number.size()));
    return number;
}

// Below zero: a before b.
int compared(std::string_view a, std::string_view b) {
    while (!a.empty() && !b.empty()) {
        if (is_digit(a.front()) && is_digit(b.front())) {
            const auto first = take_number(a);
            const auto second = take_number(b);
            if (first.size() != second.size()) {
                return first.size() < second.size() ? -1 : 1;
            }
            if (const int order = first.compare(second); order != 0) {
                return order;
            }
            continue;
        }
        const int first = std::tolower(static_cast<unsigned char>(a.front()));
        const int second = std::tolower(static_cast<unsigned char>(b.front()));
        if (first != second) {
            return first - second;
        }
        a.remove_prefix(1);
        b.remove_prefix(1);
    }
    return static_cast<int>(!a.empty()) - static_cast<int>(!b.empty());
}

bool stands_before(const std::vector<std::string>& a, const std::vector<std::string>& b) {
    if (a.empty() || b.empty()) {
        return !a.empty();
    }
    return std::lexicographical_compare(a.begin(), a.end(), b.begin(), b.end(), counts_before);
}

}  // namespace

bool counts_before(std::string_view a, std::string_view b) {
    return compared(a, b) < 0;
}

void sort_for_report(std::vector<book::Part>& parts) {
    std::sort(parts.begin(), parts.end(), [](const book::Part& a, const book::Part& b) {
        const auto first = book::assembly_levels(a.assembly);
        const auto second = book::assembly_levels(b.assembly);
        if (stands_before(first, second) != stands_before(second, first)) {
            return stands_before(first, second);
        }
        return a.tag < b.tag;
    });
}

}  // namespace stripbook::print
