// The parts list as CSV (RFC 4180), in and out.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

struct PartChange {
    explicit PartChange(Part p) : part(std::move(p)) {}
    Part part;  ///< as it will be
    bool is_new = false;
    std::vector<CellChange> changes;
};

/// What an import would do.
struct ImportPlan {
    std::vector<PartChange> changed;  ///< new and changed parts, in file order
    int unchanged = 0;
    std::vector<std::string> columns_kept_as_notes;
    std::vector<std::string> remarks;  ///< "read with ; as the separator and , as the decimal mark"
};

/// Reads a parts list: header by name in any order (tag, name, assembly, place, storage, quantity or quantity
/// expected, quantity present, face height mm, condition, path, parent), RFC 4180 quoting, UTF-8 with or
/// without BOM, LF or CRLF; separators comma, semicolon and tab and the decimal comma are recognised; other
/// columns become notes; a blank cell leaves the book's value alone. Throws BadFile naming file and line: not
/// UTF-8 (with how to save it), no tag column, a column twice, a wrong tag number, a tag twice, a bad number,
/// an unknown path, a parent that is neither in the book nor in the list or that goes round in a circle, more
/// cells than headings, bad quoting.
ImportPlan plan_import(const Book& book, const std::filesystem::path& file);

/// Does what the plan says, all or nothing, every change in the history.
void apply_import(Book& book, const ImportPlan& plan, const std::string& who, const std::string& how);

/// All parts as CSV (comma, CRLF, no BOM, quoting where needed, notes as their own columns). Importing it
/// into an empty book of the same code gives the same parts.
std::string export_parts(const Book& book);

}  // namespace stripbook::book
