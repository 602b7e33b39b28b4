// A CSV file (RFC 4180) as rows of cells, each row with its line in the file.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

namespace stripbook::book {

struct CsvCell {
    std::string text;  ///< UTF-8; line ends inside are "\n"
    bool quoted = false;
};

struct CsvRow {
    int line = 0;  ///< of the file, from 1, where the row begins
    std::vector<CsvCell> cells;
};

struct CsvTable {
    char separator = ',';
    std::vector<CsvRow> rows;  ///< without those whose cells are all blank
};

/// Reads `file` (at most 64 MiB). The separator (comma, semicolon or tab) is the one the first row holds most
/// of, outside quotes. Spaces around unquoted cells are dropped. Throws BadFile naming file and line: not
/// UTF-8, NUL or control characters, bad quoting, too large, not a file; OutsideError when it cannot be read.
CsvTable read_csv(const std::filesystem::path& file);

/// One cell as RFC 4180 writes it, in quotes where it needs them (also where outer spaces would be lost).
std::string csv_cell(const std::string& text);

}  // namespace stripbook::book
