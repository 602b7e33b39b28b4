#include "book/schema.h"

#include <sstream>

#include "sample_book.h"
#include "where.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> lines;
    std::istringstream in(text);
    for (std::string line; std::getline(in, line);) {
        lines.push_back(line);
    }
    return lines;
}

// The row of the page's table that describes `table`.
std::string row_about(const std::string& page, const std::string& table) {
    for (const auto& line : lines_of(page)) {
        if (line.rfind("| `" + table + "` |", 0) == 0) {
            return line;
        }
    }
    return "";
}

}  // namespace

TEST_CASE("The page on the format names every table and column", "[book]") {
    const ScratchFolder scratch;
    new_book(scratch / "petrel");
    const std::string page = bytes_of(stripbook::test::source_folder() / "docs/book-format.md");
    const auto columns = lines_of(sqlite3_of(
        scratch / "petrel" / "book.db",
        "SELECT m.name || ' ' || c.name FROM sqlite_schema AS m JOIN pragma_table_info(m.name) AS c "
        "JOIN pragma_table_list AS l ON l.name = m.name AND l.type IN ('table', 'virtual') "
        "WHERE m.type = 'table' AND m.name NOT LIKE 'sqlite_%'"));
    CHECK(columns.size() > 100);
    for (const auto& column : columns) {
        INFO(column);
        const auto space = column.find(' ');
        CHECK_THAT(row_about(page, column.substr(0, space)),
                   Catch::Contains("`" + column.substr(space + 1) + "`"));
    }
    CHECK_THAT(page, Catch::Contains(std::to_string(book::book_application_id)));
    CHECK_THAT(page,
               Catch::StartsWith("# The job book on disk, format " + std::to_string(book::schema_format)));
}
