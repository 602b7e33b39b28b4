#include "print/path_words.h"

#include "number/money.h"

namespace stripbook::print {

std::vector<std::string> path_lines(const book::PathRecord& path, const std::string& currency) {
    std::vector<std::string> lines;
    const auto add = [&lines](const std::string& label, const std::string& text) {
        if (!text.empty()) {
            lines.push_back(label + text);
        }
    };
    constexpr std::size_t day = 10;  // of a time stamp
    add("why: ", path.why);
    if (!path.at.empty()) {
        add("decided ", (path.by.empty() ? "" : "by " + path.by + ", ") + path.at.substr(0, day));
    }
    add("from ", path.from_whom);
    add("price ", path.price_cents ? number::money_text(*path.price_cents, currency) : "");
    add("ordered ", path.ordered_on);
    add("received ", path.received_on);
    add("drawing ", path.drawing);
    add("material ", path.material);
    return lines;
}

}  // namespace stripbook::print
