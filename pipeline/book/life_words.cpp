// An entry of the history as people would tell it.
#include <fmt/format.h>

#include <algorithm>

#include "book/history.h"
#include "book/life.h"
#include "book/paths.h"

namespace stripbook::book {

namespace {

bool begins(const std::string& text, const std::string& with) {
    return text.rfind(with, 0) == 0;
}

std::string quoted(const std::string& text) {
    return fmt::format("\"{}\"", printable_name(text));
}

// `now` with the value it has, `gone` when it has none any more, and what it was before.
std::string change_words(const Change& c, const std::string& now, const std::string& gone) {
    if (c.after.empty()) {
        return fmt::format("{} (was {})", gone, quoted(c.before));
    }
    return now + quoted(c.after) + (c.before.empty() ? "" : fmt::format(", before: {}", quoted(c.before)));
}

std::string plain_words(const std::string& head, const Change& c) {
    if (c.after.empty()) {
        return fmt::format("{} taken away: {}", head, printable_name(c.before));
    }
    return fmt::format("{}: {}{}", head, printable_name(c.after),
                       c.before.empty() ? "" : fmt::format(" (before: {})", printable_name(c.before)));
}

std::string part_words(const Change& c) {
    if (c.after.empty()) {
        return "the record is gone";
    }
    return begins(c.how, "tag seen in") ? fmt::format("first known: its {}", printable_name(c.how))
                                        : "the record was made";
}

std::string link_words(const Change& c) {
    if (c.after.empty()) {
        return fmt::format("{} is not linked to {} any more", c.what, printable_name(c.before));
    }
    if (begins(c.after, "not ")) {
        return fmt::format("{} does not belong to {}", c.what, printable_name(c.after.substr(4)));
    }
    return fmt::format("{} belongs to {}{}", c.what, printable_name(c.after),
                       c.before.empty() ? "" : fmt::format(" (before: {})", printable_name(c.before)));
}

std::string printed_words(const Change& c) {
    if (c.after.empty()) {
        return "the print run of its tag was taken back";
    }
    return fmt::format("its tag was printed ({})", printable_name(c.after));
}

std::string stage_words_of(const Change& c) {
    if (begins(c.how, "refit done") || c.after == "refitted" || c.before == "refitted") {
        return c.after.empty() ? "not in place any more" : "put back in its place (refitted)";
    }
    return change_words(c, "stage said: ", "no stage is said any more");
}

// The first few dimensions: "measured in p9: length 193.18 mm (U 0.41); width 193.20 mm (U 0.41); and 12
// more".
std::string measured_words(const std::string& photo, const Change& c) {
    constexpr std::size_t shown = 2;
    const auto first_few = [](const std::string& all) {
        std::size_t end = 0;
        for (std::size_t i = 0; i < shown && end != std::string::npos; ++i) {
            end = all.find("; ", i == 0 ? 0 : end + 1);
        }
        if (end == std::string::npos) {
            return all;
        }
        const auto more = std::count(all.begin() + static_cast<std::ptrdiff_t>(end), all.end(), ';');
        return fmt::format("{}; and {} more", all.substr(0, end), more);
    };
    Change shorter = c;
    shorter.before = first_few(c.before);
    shorter.after = first_few(c.after);
    return plain_words("measured in " + photo, shorter);
}

std::string words_by_field(const Change& c) {
    const std::string& f = c.field;
    if (f == "part") {
        return part_words(c);
    }
    if (f == "link") {
        return link_words(c);
    }
    if (f == "printed tag") {
        return printed_words(c);
    }
    if (f == "stage") {
        return stage_words_of(c);
    }
    if (f == "name") {
        return change_words(c, "named ", "without a name");
    }
    if (f == "assembly") {
        return change_words(c, "belongs in the assembly ", "in no assembly");
    }
    if (f == "parent") {
        return change_words(c, "taken from the part ", "taken from no other part");
    }
    if (f == "place") {
        return change_words(c, "sat on the machine at ", "without a place on the machine");
    }
    if (f == "storage") {
        return change_words(c, "stored at ", "without a storage place");
    }
    if (f == "path") {
        return change_words(c, "decided: ", "undecided");
    }
    if (f == "condition") {
        return change_words(c, "condition noted: ", "without a note on its condition");
    }
    if (begins(f, "entry ")) {
        return plain_words("inspected (" + f + ")", c);
    }
    if (begins(f, "stage from ")) {
        return change_words(c, "said to be, " + f.substr(6) + " on, at the stage ",
                            "no stage " + f.substr(6));
    }
    if (begins(f, "dimensions in ")) {
        return measured_words(f.substr(14), c);
    }
    if (begins(f, "work ")) {
        return plain_words(f, c);
    }
    return plain_words(printable_name(f), c);
}

}  // namespace

std::string sentence_of(const Change& change) {
    std::string words = words_by_field(change);
    if (begins(change.how, undone_words)) {
        return "undone, so again: " + words;
    }
    return words;
}

}  // namespace stripbook::book
