#include "book/parts_csv.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "book/csv_table.h"
#include "book/number_text.h"
#include "book/part_fields.h"
#include "book/parts.h"
#include "book/parts_cells.h"
#include "book/parts_tree.h"
#include "book/paths.h"
#include "book/spreadsheet_cell.h"
#include "errors.h"

namespace stripbook::book {

namespace {

// What one column of the list is.
struct Column {
    std::optional<Field> field;  ///< else a note
    std::string heading;         ///< empty: a column without heading, which must be blank
};

bool is_blank(const CsvCell& cell) {
    return without_outer_spaces(cell.text).empty();
}

// Headings of notes that the book has: small letters to the way they are written there.
std::map<std::string, std::string> note_headings(const std::vector<Part>& parts) {
    std::map<std::string, std::string> headings;
    for (const auto& part : parts) {
        for (const auto& note : part.notes) {
            headings.emplace(in_small_letters(note.first), note.first);
        }
    }
    return headings;
}

class Import {
  public:
    Import(const Book& book, const std::filesystem::path& file)
        : book_(book), name_(printable_name(file.filename().string())), table_(read_csv(file)) {
        const auto parts = all_parts(book);
        headings_in_book_ = note_headings(parts);
        for (const auto& part : parts) {
            known_.emplace(part.tag, part);
        }
    }

    ImportPlan plan() {
        if (table_.rows.empty()) {
            throw BadFile(fmt::format(
                "{}: is empty; a parts list begins with a row of headings, one of them tag", name_));
        }
        style_.separator = table_.separator;
        read_headings(table_.rows.front());
        for (std::size_t i = 1; i < table_.rows.size(); ++i) {
            read_row(table_.rows[i]);
        }
        check_parents();
        add_remarks();
        return std::move(plan_);
    }

  private:
    [[noreturn]] void refuse(const CsvRow& row, const std::string& why) const {
        throw BadFile(fmt::format("{} line {}: {}; nothing was taken in", name_, row.line, why));
    }

    void read_headings(const CsvRow& row) {
        std::set<std::string> seen;
        for (const auto& cell : row.cells) {
            const Column column = column_of(without_outer_spaces(cell.text));
            // Two headings for one field ("quantity" and "quantity expected") are as bad as one heading
            // twice.
            const std::string key = column.field ? fmt::format("field {}", static_cast<int>(*column.field))
                                                 : in_small_letters(column.heading);
            if (!column.heading.empty() && !seen.insert(key).second) {
                refuse(row, fmt::format("the column \"{}\" is there twice", printable_name(column.heading)));
            }
            columns_.push_back(column);
        }
        const auto tag = std::find_if(columns_.begin(), columns_.end(),
                                      [](const Column& column) { return column.field == Field::tag; });
        if (tag == columns_.end()) {
            refuse(row, "there is no column \"tag\" in the row of headings");
        }
        tag_column_ = static_cast<std::size_t>(tag - columns_.begin());
        if (count(Field::face_height_mm) + count(Field::face_height_inch) > 1) {
            refuse(row, "the face height is there twice, in mm and in inches");
        }
    }

    Column column_of(const std::string& heading) {
        if (const auto field = field_of_heading(heading)) {
            return {field, heading};
        }
        if (heading.empty()) {
            return {};
        }
        const auto known = headings_in_book_.find(in_small_letters(heading));
        const std::string kept = known == headings_in_book_.end() ? heading : known->second;
        plan_.columns_kept_as_notes.push_back(kept);
        return {std::nullopt, kept};
    }

    [[nodiscard]] long count(Field field) const {
        return std::count_if(columns_.begin(), columns_.end(),
                             [field](const Column& column) { return column.field == field; });
    }

    number::TagNumber tag_of(const CsvRow& row) {
        const bool missing = row.cells.size() <= tag_column_ || is_blank(row.cells[tag_column_]);
        if (missing) {
            refuse(row, "this row has no tag number");
        }
        std::optional<number::TagNumber> tag;
        try {
            tag = number::TagNumber::from_typed(row.cells[tag_column_].text, book_.code());
        } catch (const WrongUse& error) {
            refuse(row, printable_name(error.what()));
        }
        if (tag->book() != book_.code()) {
            refuse(row, fmt::format("{} belongs to book {}, this is book {}", tag->text(), tag->book().text(),
                                    book_.code().text()));
        }
        const auto [first, is_new] = line_of_tag_.emplace(*tag, row.line);
        if (!is_new) {
            refuse(row, fmt::format("{} stands in line {} already", tag->text(), first->second));
        }
        return *tag;
    }

    void set_cell(Part& part, const CsvRow& row, std::size_t i) {
        const CsvCell& cell = row.cells[i];
        if (is_blank(cell) || i == tag_column_) {
            return;
        }
        if (i >= columns_.size()) {
            refuse(row,
                   fmt::format(
                       "there are {} cells for {} headings (\"{}\" is too many): is there a {} inside a cell "
                       "without quotation marks?",
                       row.cells.size(), columns_.size(), printable_name(cell.text),
                       table_.separator == '\t' ? "tab" : std::string(1, table_.separator)));
        }
        const Column& column = columns_[i];
        if (column.heading.empty()) {
            refuse(row, fmt::format("\"{}\" stands in a column without a heading: give it one",
                                    printable_name(cell.text)));
        }
        if (!column.field) {
            part.notes[column.heading] = cell.text;
        } else if (const auto wrong = set_field(part, *column.field, cell, style_)) {
            refuse(row, *wrong);
        }
    }

    void read_row(const CsvRow& row) {
        const auto tag = tag_of(row);
        const auto known = known_.find(tag);
        const Part before = known == known_.end() ? Part(tag) : known->second;
        PartChange change(before);
        change.is_new = known == known_.end();
        change.part.listed = true;
        for (std::size_t i = 0; i < row.cells.size(); ++i) {
            set_cell(change.part, row, i);
        }
        change.changes = differences(before, change.part);
        if (change.changes.empty()) {
            ++plan_.unchanged;
        } else {
            plan_.changed.push_back(std::move(change));
        }
    }

    // Only now, since a parent may stand further down in the list than what was taken from it.
    void check_parents() {
        auto tree = ParentTree(known_);
        for (const auto& change : plan_.changed) {
            tree.set(change.part.tag, change.part.parent);
        }
        for (const auto& change : plan_.changed) {
            if (const auto wrong = tree.fault_at(change.part.tag)) {
                throw BadFile(fmt::format("{} line {}: {}; nothing was taken in", name_,
                                          line_of_tag_.at(change.part.tag), *wrong));
            }
        }
    }

    void add_remarks() {
        std::string how;
        if (table_.separator != ',') {
            how = fmt::format("{} as the separator",
                              table_.separator == '\t' ? "tab" : std::string(1, table_.separator));
        }
        if (style_.decimal_comma_seen) {
            how += std::string(how.empty() ? "" : " and ") + ", as the decimal mark";
        }
        if (!how.empty()) {
            plan_.remarks.push_back("read with " + how);
        }
    }

    const Book& book_;
    std::string name_;
    CsvTable table_;
    std::map<std::string, std::string> headings_in_book_;
    std::map<number::TagNumber, Part> known_;
    std::map<number::TagNumber, int> line_of_tag_;
    std::vector<Column> columns_;
    std::size_t tag_column_ = 0;
    NumberStyle style_;
    ImportPlan plan_;
};

std::string csv_row(const std::vector<std::string>& cells) {
    std::string row;
    for (const auto& cell : cells) {
        row += (row.empty() ? "" : ",") + csv_cell(defused(cell));
    }
    return row + "\r\n";
}

std::string csv_row_of(const Part& part, const std::map<std::string, std::string>& headings) {
    std::map<std::string, std::string> notes;
    for (const auto& [heading, value] : part.notes) {
        notes[in_small_letters(heading)] = value;
    }
    std::vector<std::string> cells{part.tag.text()};
    for (const auto& cell : own_cells(part)) {
        cells.push_back(cell.value);
    }
    for (const auto& heading : headings) {
        cells.push_back(notes[heading.first]);
    }
    return csv_row(cells);
}

}  // namespace

ImportPlan plan_import(const Book& book, const std::filesystem::path& file) {
    return Import(book, file).plan();
}

void apply_import(Book& book, const ImportPlan& plan, const std::string& who, const std::string& how) {
    book.together([&] {
        for (const auto& change : plan.changed) {
            save_part(book, change.part, who, how);
        }
    });
}

std::string export_parts(const Book& book) {
    const auto parts = all_parts(book);
    const auto headings = note_headings(parts);
    std::vector<std::string> first{"tag"};
    for (const auto& cell : own_cells(Part(number::TagNumber(book.code(), 1)))) {
        first.push_back(cell.heading);
    }
    for (const auto& heading : headings) {
        first.push_back(heading.second);
    }
    std::string csv = csv_row(first);
    for (const auto& part : parts) {
        csv += csv_row_of(part, headings);
    }
    return csv;
}

}  // namespace stripbook::book
