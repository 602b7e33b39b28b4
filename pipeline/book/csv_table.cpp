#include "book/csv_table.h"

#include <csv.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <string_view>

#include "book/paths.h"
#include "book/spreadsheet_cell.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr std::uintmax_t largest_file_bytes = 64ULL << 20U;

constexpr const char* how_to_save = "in the spreadsheet: save as, CSV, character set UTF-8";

[[noreturn]] void refuse(const std::string& name, const std::string& why) {
    throw BadFile(fmt::format("{}: {}; nothing was taken in", name, why));
}

[[noreturn]] void refuse_line(const std::string& name, std::int64_t line, const std::string& why) {
    throw BadFile(fmt::format("{} line {}: {}; nothing was taken in", name, line, why));
}

std::string file_bytes(const std::filesystem::path& file, const std::string& name) {
    std::error_code error;
    // A pipe or device could go on for ever.
    if (!std::filesystem::is_regular_file(file, error)) {
        refuse(name, std::filesystem::exists(file, error) ? "is not a file" : "there is no such file");
    }
    if (std::filesystem::file_size(file, error) > largest_file_bytes) {
        refuse(name, "is larger than 64 MiB, which no parts list is");
    }
    std::ifstream in(file, std::ios::binary);
    std::string bytes(std::istreambuf_iterator<char>(in), {});
    if (!in.is_open() || in.bad()) {
        throw OutsideError(fmt::format("{} cannot be read; check that you may read it", name));
    }
    return bytes;
}

// Lines end with LF, CR LF or, in very old files, CR alone.
std::int64_t line_of(std::string_view bytes, std::size_t at) {
    std::int64_t line = 1;
    for (std::size_t i = 0; i < at; ++i) {
        const bool lone_cr = bytes[i] == '\r' && (i + 1 >= bytes.size() || bytes[i + 1] != '\n');
        line += bytes[i] == '\n' || lone_cr ? 1 : 0;
    }
    return line;
}

void check_text(const std::string& bytes, const std::string& name) {
    const std::string_view start = std::string_view(bytes).substr(0, 2);
    if (start == "\xff\xfe" || start == "\xfe\xff") {
        refuse(name, fmt::format("is UTF-16 text; save it as UTF-8 ({})", how_to_save));
    }
    if (const auto nul = bytes.find('\0'); nul != std::string::npos) {
        refuse_line(name, line_of(bytes, nul),
                    fmt::format("holds a zero byte, so this is no text file; save the list as CSV ({})",
                                how_to_save));
    }
    if (const auto wrong = first_wrong_byte(bytes)) {
        refuse_line(name, line_of(bytes, *wrong),
                    fmt::format("is not UTF-8; save it as UTF-8 ({})", how_to_save));
    }
}

std::size_t count_outside_quotes(std::string_view text, char separator) {
    std::size_t count = 0;
    bool in_quotes = false;
    for (const char c : text) {
        in_quotes = c == '"' ? !in_quotes : in_quotes;
        count += c == separator && !in_quotes ? 1 : 0;
    }
    return count;
}

// A header cell in quotes may hold a line end.
std::string_view first_row(std::string_view text) {
    text.remove_prefix(std::min(text.find_first_not_of("\r\n"), text.size()));
    bool in_quotes = false;
    for (std::size_t i = 0; i < text.size(); ++i) {
        in_quotes = text[i] == '"' ? !in_quotes : in_quotes;
        if (!in_quotes && (text[i] == '\n' || text[i] == '\r')) {
            return text.substr(0, i);
        }
    }
    return text;
}

char separator_of(std::string_view text) {
    const std::string_view header = first_row(text);
    constexpr std::array<char, 3> separators{',', ';', '\t'};
    return *std::max_element(separators.begin(), separators.end(), [header](char a, char b) {
        return count_outside_quotes(header, a) < count_outside_quotes(header, b);
    });
}

// Feeds libcsv one byte at a time: only then it is known which line a row begins on, and whether a cell was
// quoted.
class Reader {
  public:
    Reader(std::string name, char separator) : name_(std::move(name)) {
        // Without CSV_REPALL_NL libcsv passes over blank lines.
        if (csv_init(&parser_, CSV_STRICT | CSV_STRICT_FINI) != 0) {
            throw OutsideError(name_ + ": out of memory");
        }
        csv_set_delim(&parser_, static_cast<unsigned char>(separator));
    }
    Reader(const Reader&) = delete;
    Reader& operator=(const Reader&) = delete;
    ~Reader() { csv_free(&parser_); }

    std::vector<CsvRow> read(std::string_view text) {
        for (std::size_t i = 0; i < text.size(); ++i) {
            feed(text[i]);
            const bool lone_cr = text[i] == '\r' && (i + 1 >= text.size() || text[i + 1] != '\n');
            line_ += text[i] == '\n' || lone_cr ? 1 : 0;
        }
        if (csv_fini(&parser_, on_cell, on_row, this) != 0) {
            refuse_line(name_, row_.line == 0 ? line_ : row_.line,
                        "a quotation mark opens a cell in this row and is never closed");
        }
        return std::move(rows_);
    }

  private:
    void feed(char c) {
        const bool is_space = c == ' ' || (c == '\t' && csv_get_delim(&parser_) != CSV_TAB);
        if (row_.line == 0 && !is_space && c != '\n' && c != '\r') {
            row_.line = line_;
        }
        quoted_ = parser_.quoted != 0;
        if (csv_parse(&parser_, &c, 1, on_cell, on_row, this) == 1) {
            return;
        }
        if (csv_error(&parser_) == CSV_EPARSE) {
            refuse_line(
                name_, line_,
                "a quotation mark stands inside a cell: a cell with quotation marks is written in quotation "
                "marks, with each of its own doubled");
        }
        throw OutsideError(name_ + ": out of memory");
    }

    static void on_cell(void* text, std::size_t bytes, void* self) {
        auto& reader = *static_cast<Reader*>(self);
        reader.row_.cells.push_back(
            {with_plain_line_ends({static_cast<const char*>(text), bytes}), reader.quoted_});
    }

    static void on_row(int /*terminator*/, void* self) {
        auto& reader = *static_cast<Reader*>(self);
        const auto& cells = reader.row_.cells;
        if (!std::all_of(cells.begin(), cells.end(), [](const CsvCell& cell) { return cell.text.empty(); })) {
            reader.rows_.push_back(reader.row_);
        }
        reader.row_ = {};
    }

    static std::string with_plain_line_ends(std::string_view text) {
        std::string out;
        for (std::size_t i = 0; i < text.size(); ++i) {
            const bool cr_of_pair = text[i] == '\r' && i + 1 < text.size() && text[i + 1] == '\n';
            if (!cr_of_pair) {
                out += text[i] == '\r' ? '\n' : text[i];
            }
        }
        return out;
    }

    std::string name_;
    csv_parser parser_{};
    std::vector<CsvRow> rows_;
    CsvRow row_;
    int line_ = 1;
    bool quoted_ = false;
};

void check_controls(const CsvTable& table, const std::string& name) {
    for (const auto& row : table.rows) {
        for (const auto& cell : row.cells) {
            if (first_control(cell.text)) {
                refuse_line(
                    name, row.line,
                    fmt::format("\"{}\" holds a control character; delete it", printable_name(cell.text)));
            }
        }
    }
}

// What our own tables put before a cell that a spreadsheet would run.
void take_off_defusing(CsvTable& table) {
    for (auto& row : table.rows) {
        for (auto& cell : row.cells) {
            cell.text = without_defusing(cell.text);
        }
    }
}

}  // namespace

CsvTable read_csv(const std::filesystem::path& file) {
    const std::string name = printable_name(file.filename().string());
    const std::string bytes = file_bytes(file, name);
    check_text(bytes, name);
    constexpr std::string_view byte_order_mark = "\xef\xbb\xbf";
    std::string_view text = bytes;
    if (text.substr(0, byte_order_mark.size()) == byte_order_mark) {
        text.remove_prefix(byte_order_mark.size());
    }
    CsvTable table;
    table.separator = separator_of(text);
    table.rows = Reader(name, table.separator).read(text);
    check_controls(table, name);
    take_off_defusing(table);
    return table;
}

std::string csv_cell(const std::string& text) {
    const bool outer_spaces = !text.empty() && (text.front() == ' ' || text.back() == ' ');
    if (!outer_spaces && text.find_first_of(",;\"\t\r\n") == std::string::npos) {
        return text;
    }
    std::string quoted = "\"";
    for (const char c : text) {
        quoted += c == '"' ? "\"\"" : std::string(1, c);
    }
    return quoted + "\"";
}

}  // namespace stripbook::book
