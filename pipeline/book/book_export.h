// Everything the book holds, as plain tables: one CSV file a table, and the same as one JSON file.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <vector>

#include "book/book.h"

namespace stripbook::book {

struct ExportedTable {
    std::string name;  ///< "photos": photos.csv, and the field "photos" of book.json
    std::int64_t rows = 0;
};

/// Writes into `folder`, which must not be there or be empty: whole or not at all. CSV as RFC 4180 has it,
/// UTF-8, a row of headings, cells defused (spreadsheet_cell.h); parts.csv can be imported again. book.json:
/// one object, a field a table, each a list of rows. Throws WrongUse, OutsideError.
std::vector<ExportedTable> export_book(Book& book, const std::filesystem::path& folder);

}  // namespace stripbook::book
