#include "book/part_fields.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <set>
#include <utility>

#include "book/number_text.h"
#include "book/paths.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

// Every heading that a parts list may use.
constexpr std::array<std::pair<const char*, Field>, 18> own_headings{
    {{"tag", Field::tag},
     {"name", Field::name},
     {"assembly", Field::assembly},
     {"place", Field::place},
     {"storage", Field::storage},
     {"quantity", Field::quantity_expected},
     {"quantity expected", Field::quantity_expected},
     {"quantity present", Field::quantity_present},
     {"face height", Field::face_height_mm},
     {"face height mm", Field::face_height_mm},
     {"face height (mm)", Field::face_height_mm},
     {"face height in", Field::face_height_inch},
     {"face height (in)", Field::face_height_inch},
     {"face height inch", Field::face_height_inch},
     {"condition", Field::condition},
     {"path", Field::path},
     {"other tag", Field::other_tag},
     {"parent", Field::parent}}};

std::string text_of(const std::optional<int>& quantity) {
    return quantity ? std::to_string(*quantity) : "";
}

void check_quantity(const Part& part, const std::optional<int>& quantity, const char* field) {
    if (quantity && (*quantity < 0 || *quantity > highest_quantity)) {
        throw WrongUse(fmt::format("{}: {} {} will not do: it must be 0 to {}", part.tag.text(), field,
                                   *quantity, highest_quantity));
    }
}

void check_path(const Part& part) {
    if (std::find(path_words.begin(), path_words.end(), part.path) == path_words.end()) {
        throw WrongUse(fmt::format("{}: \"{}\" is not a path: there are {}", part.tag.text(),
                                   printable_name(part.path), fmt::join(path_words, ", ")));
    }
}

void check_notes(const Part& part) {
    std::set<std::string> seen;
    for (const auto& [heading, value] : part.notes) {
        const std::string small = in_small_letters(without_outer_spaces(heading));
        check_typed_text(heading, part.tag.text() + " note heading");
        check_typed_text(value, part.tag.text() + " " + heading);
        const bool usable = !small.empty() && small.size() == heading.size() && !field_of_heading(small);
        if (!usable || !seen.insert(small).second) {
            throw WrongUse(fmt::format(
                "{}: \"{}\" cannot be the heading of a note: it is blank, has spaces around it, is a part's "
                "own field or is there twice; choose another",
                part.tag.text(), printable_name(heading)));
        }
    }
}

void compare(std::vector<CellChange>& changes, const std::string& field, const std::string& before,
             const std::string& after) {
    if (before != after) {
        changes.push_back({field, before, after});
    }
}

std::string note_of(const Part& part, const std::string& heading) {
    const auto note = part.notes.find(heading);
    return note == part.notes.end() ? "" : note->second;
}

}  // namespace

std::vector<Cell> own_cells(const Part& part) {
    return {{"name", part.name},
            {"assembly", part.assembly},
            {"place", part.place},
            {"storage", part.storage},
            {"quantity expected", text_of(part.quantity_expected)},
            {"quantity present", text_of(part.quantity_present)},
            {"face height mm", part.face_height_mm ? number_text(*part.face_height_mm) : ""},
            {"condition", part.condition},
            {"path", part.path},
            {"other tag", part.other_tag},
            {"parent", part.parent ? part.parent->text() : ""}};
}

std::vector<CellChange> differences(const Part& before, const Part& after) {
    std::vector<CellChange> changes;
    const auto cells_before = own_cells(before);
    const auto cells_after = own_cells(after);
    for (std::size_t i = 0; i < cells_before.size(); ++i) {
        compare(changes, cells_before[i].heading, cells_before[i].value, cells_after[i].value);
    }
    std::set<std::string> headings;
    for (const auto* part : {&before, &after}) {
        for (const auto& note : part->notes) {
            headings.insert(note.first);
        }
    }
    for (const auto& heading : headings) {
        compare(changes, heading, note_of(before, heading), note_of(after, heading));
    }
    compare(changes, "listed", before.listed ? "yes" : "no", after.listed ? "yes" : "no");
    return changes;
}

std::optional<Field> field_of_heading(std::string_view heading) {
    const std::string small = in_small_letters(without_outer_spaces(heading));
    const auto* const found = std::find_if(own_headings.begin(), own_headings.end(),
                                           [&small](const auto& h) { return small == h.first; });
    return found == own_headings.end() ? std::nullopt : std::optional(found->second);
}

void check_part(const Part& part) {
    for (const auto& cell : own_cells(part)) {
        check_typed_text(cell.value, part.tag.text() + " " + cell.heading);
    }
    check_quantity(part, part.quantity_expected, "quantity expected");
    check_quantity(part, part.quantity_present, "quantity present");
    if (part.face_height_mm && !(*part.face_height_mm >= 0 && *part.face_height_mm <= highest_face_mm)) {
        throw WrongUse(fmt::format("{}: face height {} mm will not do: it must be 0 to {} mm",
                                   part.tag.text(), *part.face_height_mm, highest_face_mm));
    }
    check_path(part);
    if (part.parent == part.tag) {
        throw WrongUse(fmt::format("{} cannot be taken from itself: name another parent", part.tag.text()));
    }
    check_notes(part);
}

}  // namespace stripbook::book
