#include "book/book_export.h"

#include <SQLiteCpp/Exception.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>
#include <utility>

#include "book/csv_table.h"
#include "book/durable_files.h"
#include "book/parts_csv.h"
#include "book/paths.h"
#include "book/spreadsheet_cell.h"
#include "book/sql_access.h"
#include "book/sql_errors.h"
#include "errors.h"

namespace stripbook::book {

namespace fs = std::filesystem;

namespace {

constexpr const char* json_name = "book.json";
constexpr const char* parts_name = "parts";

struct Table {
    std::string name;
    std::string sql;
};

// Photos with both times: what the camera wrote, and the workshop's and the true time as far as known.
constexpr const char* photos_sql =
    "SELECT 'p' || p.number AS photo, o.stored_path, f.name_words AS name_on_card, f.dump, c.id AS "
    "camera_number, "
    "c.maker, c.model, c.serial, p.time_text AS camera_time, p.time_utc_offset AS camera_utc_offset, "
    "p.time_source AS camera_time_source, "
    "strftime('%Y-%m-%dT%H:%M:%f', coalesce(t.corrected_s, p.time_s - coalesce(c.offset_s, 0)), 'unixepoch') "
    "AS "
    "workshop_time, strftime('%Y-%m-%dT%H:%M:%fZ', t.utc_s, 'unixepoch') AS true_time_utc, "
    "t.u_s AS true_time_u_s, t.how AS true_time_how, p.stage_by_person, p.width_px, p.height_px, "
    "p.orientation, "
    "p.focal_length_mm, p.focal_length_35_mm, p.read_state, p.read_note, p.read_by, o.kind, o.bytes, "
    "o.sha256 "
    "FROM photo AS p JOIN original AS o ON o.id = p.original JOIN card_file AS f ON f.id = p.card_file "
    "LEFT JOIN camera AS c ON c.id = p.camera LEFT JOIN true_time AS t ON t.photo = p.number ORDER BY "
    "p.number";

constexpr const char* links_sql =
    "SELECT photo, tag, probability, reason, by_person FROM (SELECT 'p' || photo AS photo, photo AS number, "
    "tag, "
    "sure AS probability, why AS reason, 0 AS by_person FROM program_link WHERE NOT EXISTS (SELECT 1 FROM "
    "person_word AS w WHERE w.photo = program_link.photo AND w.tag = program_link.tag) UNION ALL SELECT 'p' "
    "|| "
    "photo, photo, tag, 1.0, 'said by ' || who, 1 FROM person_word WHERE belongs = 1) ORDER BY number, tag";

// In the tables above, or no records: what finding and undo keep for themselves.
bool stands_elsewhere(const std::string& table) {
    constexpr std::array names{"part", "photo", "true_time", "program_link", "act"};
    return table.rfind("word_index", 0) == 0 || std::find(names.begin(), names.end(), table) != names.end();
}

std::vector<Table> tables_of(const Book& book) {
    std::vector<Table> tables{
        {parts_name, "SELECT * FROM part ORDER BY tag"}, {"photos", photos_sql}, {"links", links_sql}};
    Query query(
        book,
        "SELECT name FROM sqlite_schema WHERE type = 'table' AND name NOT LIKE 'sqlite\\_%' ESCAPE '\\' "
        "ORDER BY name");
    while (query.next()) {
        const std::string name = query.text(0);
        if (!stands_elsewhere(name)) {
            tables.push_back({name, fmt::format("SELECT * FROM \"{}\"", name)});
        }
    }
    return tables;
}

std::string real_text(double value) {
    std::string text = fmt::format("{}", value);
    return text.size() > 2 && text.substr(text.size() - 2) == ".0" ? text.substr(0, text.size() - 2) : text;
}

std::string csv_value(const SQLite::Column& value) {
    if (value.isNull()) {
        return "";
    }
    if (value.isInteger()) {
        return std::to_string(value.getInt64());
    }
    if (value.isFloat()) {
        return real_text(value.getDouble());
    }
    const std::string text = value.getString();
    return csv_cell(defused(value.isBlob() ? printable_name(text) : text));
}

std::string json_text(const std::string& text) {
    return nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
}

std::string json_value(const SQLite::Column& value) {
    if (value.isNull() || (value.isFloat() && !std::isfinite(value.getDouble()))) {
        return "null";
    }
    if (value.isInteger()) {
        return std::to_string(value.getInt64());
    }
    if (value.isFloat()) {
        return fmt::format("{}", value.getDouble());
    }
    return json_text(value.isBlob() ? printable_name(value.getString()) : value.getString());
}

[[noreturn]] void cannot_write(const fs::path& file) {
    throw OutsideError(
        fmt::format("{} cannot be written: check that there is room on the disk and that you "
                    "may write there",
                    printable_name(file.string())));
}

class OutFile {
  public:
    explicit OutFile(fs::path file) : file_(std::move(file)), out_(file_, std::ios::binary) {
        if (!out_) {
            cannot_write(file_);
        }
    }
    void write(const std::string& text) { out_ << text; }
    void close() {
        out_.close();
        if (!out_) {
            cannot_write(file_);
        }
        sync_to_disk(file_);
    }

  private:
    fs::path file_;
    std::ofstream out_;
};

std::string csv_head(SQLite::Statement& rows) {
    std::string line;
    for (int i = 0; i < rows.getColumnCount(); ++i) {
        line += (i == 0 ? "" : ",") + csv_cell(rows.getColumnName(i));
    }
    return line + "\r\n";
}

std::string csv_row(SQLite::Statement& rows) {
    std::string line;
    for (int i = 0; i < rows.getColumnCount(); ++i) {
        line += (i == 0 ? "" : ",") + csv_value(rows.getColumn(i));
    }
    return line + "\r\n";
}

std::string json_row(SQLite::Statement& rows) {
    std::string line = "{";
    for (int i = 0; i < rows.getColumnCount(); ++i) {
        line +=
            (i == 0 ? "" : ", ") + json_text(rows.getColumnName(i)) + ": " + json_value(rows.getColumn(i));
    }
    return line + "}";
}

std::int64_t write_table(const Book& book, const Table& table, const fs::path& folder, OutFile& json) {
    SQLite::Statement rows(SqlAccess::database(book), table.sql);
    OutFile csv(folder / (table.name + ".csv"));
    const bool as_parts_list = table.name == parts_name;
    csv.write(as_parts_list ? export_parts(book) : csv_head(rows));
    std::int64_t count = 0;
    for (; rows.executeStep(); ++count) {
        if (!as_parts_list) {
            csv.write(csv_row(rows));
        }
        json.write((count == 0 ? "\n    " : ",\n    ") + json_row(rows));
    }
    csv.close();
    return count;
}

std::vector<ExportedTable> write_all(const Book& book, const fs::path& folder) {
    std::vector<ExportedTable> written;
    OutFile json(folder / json_name);
    json.write("{");
    for (const auto& table : tables_of(book)) {
        json.write(fmt::format("{}\n  {}: [", written.empty() ? "" : ",", json_text(table.name)));
        const auto rows = write_table(book, table, folder, json);
        json.write(rows == 0 ? "]" : "\n  ]");
        written.push_back({table.name, rows});
    }
    json.write("\n}\n");
    json.close();
    return written;
}

// What an export that was killed left goes; anything else in that folder stays, and stops us.
void remove_unfinished(const fs::path& folder) {
    if (!fs::exists(folder)) {
        return;
    }
    for (const auto& entry : fs::directory_iterator(folder)) {
        if (entry.path().extension() != ".csv" && entry.path().filename() != json_name) {
            throw WrongUse(fmt::format("{} is in the way: move it elsewhere, or name another folder",
                                       printable_name(folder.string())));
        }
    }
    fs::remove_all(folder);
}

void check_free(const fs::path& folder) {
    if (fs::exists(folder) && !(fs::is_directory(folder) && fs::is_empty(folder))) {
        throw WrongUse(fmt::format("{} is there already and not empty: name a new folder for the tables",
                                   printable_name(folder.string())));
    }
}

std::vector<ExportedTable> export_into(Book& book, const fs::path& folder, const fs::path& unfinished) {
    std::vector<ExportedTable> written;
    fs::create_directories(unfinished);
    try {
        book.together([&] { written = write_all(book, unfinished); });
        sync_to_disk(unfinished);
        rename_durably(unfinished, folder);
    } catch (...) {
        std::error_code ignored;
        fs::remove_all(unfinished, ignored);
        throw;
    }
    return written;
}

}  // namespace

std::vector<ExportedTable> export_book(Book& book, const fs::path& folder) {
    try {
        const fs::path whole = fs::absolute(folder).lexically_normal();
        const fs::path here = whole.has_filename() ? whole : whole.parent_path();
        const fs::path unfinished = here.string() + ".unfinished";
        check_free(here);
        remove_unfinished(unfinished);
        return export_into(book, here, unfinished);
    } catch (const fs::filesystem_error& error) {
        throw OutsideError(fmt::format("{} cannot be made ({}): choose a folder that you may write in",
                                       printable_name(folder.string()), error.code().message()));
    } catch (const SQLite::Exception& error) {
        throw_in_words(error, SqlAccess::database_file(book));
    }
}

}  // namespace stripbook::book
