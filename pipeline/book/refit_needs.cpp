#include "book/refit_needs.h"

#include "book/hazards.h"
#include "book/number_text.h"
#include "book/part_path.h"
#include "book/parts.h"
#include "errors.h"

namespace stripbook::book {

namespace {

std::string note_under(const Part& part, const std::string& heading) {
    for (const auto& [own_heading, text] : part.notes) {
        if (in_small_letters(own_heading) == heading) {
            return text;
        }
    }
    return "";
}

}  // namespace

std::vector<std::string> path_open(const Book& book, const Part& part) {
    return what_blocks_refitting(part, path_of(book, part.tag), works_of(book, part.tag));
}

bool goes_back_in(const Book& /*book*/, const Part& part) {
    return part.path != "scrap";
}

std::vector<std::string> cautions_of(const Book& book, const Part& part) {
    std::vector<std::string> cautions = bare_cautions_for(hazards_of(book, part.tag));
    std::string rest = note_under(part, "cautions");
    while (!rest.empty()) {
        const auto end = rest.find(';');
        const std::string caution = without_outer_spaces(rest.substr(0, end));
        if (!caution.empty()) {
            cautions.push_back(caution);
        }
        rest = end == std::string::npos ? "" : rest.substr(end + 1);
    }
    return cautions;
}

std::optional<number::TagNumber> parent_of(const Book& book, const Part& part) {
    if (part.parent) {
        return part.parent;
    }
    const std::string typed = without_outer_spaces(note_under(part, "parent as listed"));
    if (typed.empty()) {
        return std::nullopt;
    }
    try {
        const auto tag = number::TagNumber::from_typed(typed, book.code());
        return tag != part.tag && find_part(book, tag) ? std::optional(tag) : std::nullopt;
    } catch (const WrongUse&) {
        return std::nullopt;  // the parent's name, or a number typed wrongly: no part is meant for sure
    }
}

}  // namespace stripbook::book
