// The session extension's part of sqlite3.h is only there when these are set before it is read.
#define SQLITE_ENABLE_SESSION
#define SQLITE_ENABLE_PREUPDATE_HOOK
#include <sqlite3.h>

#include "book/changeset.h"

#include <SQLiteCpp/Exception.h>
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "book/act_recording.h"
#include "book/sql_access.h"
#include "book/sql_errors.h"

namespace stripbook::book {

namespace {

sqlite3* handle(const Book& book) {
    return SqlAccess::database(book).getHandle();
}

// Bytes that SQLite allocated.
std::string taken(void* bytes, int count) {
    std::string text(static_cast<const char*>(bytes), static_cast<std::size_t>(count));
    sqlite3_free(bytes);
    return text;
}

int size_of(const std::string& bytes) {
    return static_cast<int>(bytes.size());
}

// The functions below read only; their parameters are not const for reasons of C.
void* raw(const std::string& bytes) {
    return const_cast<char*>(bytes.data());  // NOLINT(cppcoreguidelines-pro-type-const-cast)
}

std::string text_of(sqlite3_value* value) {
    if (value == nullptr || sqlite3_value_type(value) == SQLITE_NULL) {
        return "";
    }
    const auto* const text = sqlite3_value_text(value);
    return std::string(
        reinterpret_cast<const char*>(text),  // NOLINT(cppcoreguidelines-pro-type-reinterpret-cast)
        static_cast<std::size_t>(sqlite3_value_bytes(value)));
}

struct Operation {
    std::string table;
    int columns = 0;
    int kind = 0;  // SQLITE_INSERT, SQLITE_UPDATE, SQLITE_DELETE
};

Operation operation_of(sqlite3_changeset_iter* at) {
    const char* table = nullptr;
    Operation operation;
    int indirect = 0;
    sqlite3changeset_op(at, &table, &operation.columns, &operation.kind, &indirect);
    operation.table = table;
    return operation;
}

std::vector<std::string> columns_of(const Book& book, const std::string& table) {
    Query query(book, "SELECT name FROM pragma_table_info(?) ORDER BY cid");
    query.with(table);
    std::vector<std::string> names;
    while (query.next()) {
        names.push_back(query.text(0));
    }
    return names;
}

using Row = std::map<std::string, std::string>;

std::string value_in(const Row& row, const std::string& column) {
    const auto it = row.find(column);
    return it == row.end() ? "" : it->second;
}

// As the history calls the record a row belongs to.
std::string record_of(const std::string& table, const Row& row) {
    if (table == "photo") {
        return "p" + value_in(row, "number");
    }
    for (const char* column : {"tag", "first"}) {
        if (const auto value = value_in(row, column); !value.empty()) {
            return value;
        }
    }
    if (const auto photo = value_in(row, "photo"); !photo.empty()) {
        return "p" + photo;
    }
    if (table == "setting") {
        return "the setting " + value_in(row, "name");
    }
    std::string words = table;
    std::replace(words.begin(), words.end(), '_', ' ');
    for (const char* column : {"id", "number", "entry", "camera", "kind"}) {
        if (const auto value = value_in(row, column); !value.empty()) {
            return words + " " + value;
        }
    }
    return words;
}

// What the running of a changeset meets.
struct Meeting {
    const Book* book = nullptr;
    std::map<std::string, std::vector<std::string>> columns;
    std::vector<Obstacle> obstacles;
    bool points_to_nothing = false;
};

using Getter = int (*)(sqlite3_changeset_iter*, int, sqlite3_value**);

Row row_by(sqlite3_changeset_iter* at, const Operation& operation, const std::vector<std::string>& names,
           Getter get) {
    Row row;
    for (int i = 0; i < operation.columns && i < static_cast<int>(names.size()); ++i) {
        sqlite3_value* value = nullptr;
        if (get(at, i, &value) == SQLITE_OK && value != nullptr) {
            row[names[static_cast<std::size_t>(i)]] = text_of(value);
        }
    }
    return row;
}

void note_differences(Meeting& meeting, const std::string& table, const Row& expected, const Row& found) {
    const std::size_t before = meeting.obstacles.size();
    for (const auto& [column, was] : expected) {
        if (const auto is = value_in(found, column); is != was) {
            meeting.obstacles.push_back({table, record_of(table, found), column, was, is, false});
        }
    }
    if (meeting.obstacles.size() == before) {
        meeting.obstacles.push_back({table, record_of(table, found), "", "", "", false});
    }
}

int on_conflict(void* context, int why, sqlite3_changeset_iter* at) {
    auto& meeting = *static_cast<Meeting*>(context);
    if (why == SQLITE_CHANGESET_FOREIGN_KEY) {
        meeting.points_to_nothing = true;
        return SQLITE_CHANGESET_OMIT;
    }
    const Operation operation = operation_of(at);
    auto& names = meeting.columns[operation.table];
    if (names.empty()) {
        names = columns_of(*meeting.book, operation.table);
    }
    const bool inserts = operation.kind == SQLITE_INSERT;
    const Row expected = row_by(at, operation, names, inserts ? sqlite3changeset_new : sqlite3changeset_old);
    if (why == SQLITE_CHANGESET_DATA) {
        note_differences(meeting, operation.table, expected,
                         row_by(at, operation, names, sqlite3changeset_conflict));
    } else {
        meeting.obstacles.push_back({operation.table, record_of(operation.table, expected), "", "", "",
                                     why == SQLITE_CHANGESET_NOTFOUND});
    }
    return SQLITE_CHANGESET_OMIT;
}

int is_ours(void* /*context*/, const char* table) {
    return is_of_people(table) ? 1 : 0;
}

// Which later records need what is to go.
std::vector<Obstacle> left_without_ground(const Book& book) {
    std::vector<std::pair<std::string, std::optional<std::int64_t>>> rows;
    {
        Query wrong(book, "PRAGMA foreign_key_check");
        while (wrong.next()) {
            rows.emplace_back(wrong.text(0), wrong.is_null(1) ? std::nullopt : std::optional(wrong.whole(1)));
        }
    }
    std::vector<Obstacle> obstacles;
    for (const auto& [table, number] : rows) {
        Row row;
        const auto names = columns_of(book, table);
        Query query(book, fmt::format("SELECT * FROM \"{}\" WHERE rowid = ?", table));
        if (number && query.with(*number).next()) {
            for (std::size_t i = 0; i < names.size(); ++i) {
                row[names[i]] = query.text(static_cast<int>(i));
            }
        }
        obstacles.push_back({table, record_of(table, row), "", "", "", false});
    }
    return obstacles;
}

}  // namespace

void check_sqlite(const Book& book, int result) {
    if (result != SQLITE_OK) {
        throw_in_words(SQLite::Exception(handle(book), result), SqlAccess::database_file(book));
    }
}

Session::Session(const Book& book) : book_(book) {
    check_sqlite(book, sqlite3session_create(handle(book), "main", &session_));
    sqlite3session_table_filter(session_, is_ours, nullptr);
    check_sqlite(book, sqlite3session_attach(session_, nullptr));
}

Session::~Session() {
    sqlite3session_delete(session_);
}

std::string Session::changeset() const {
    int count = 0;
    void* bytes = nullptr;
    check_sqlite(book_, sqlite3session_changeset(session_, &count, &bytes));
    return taken(bytes, count);
}

std::string joined(const Book& book, const std::string& first, const std::string& then) {
    int count = 0;
    void* bytes = nullptr;
    check_sqlite(
        book, sqlite3changeset_concat(size_of(first), raw(first), size_of(then), raw(then), &count, &bytes));
    return taken(bytes, count);
}

std::string inverted(const Book& book, const std::string& changeset) {
    int count = 0;
    void* bytes = nullptr;
    check_sqlite(book, sqlite3changeset_invert(size_of(changeset), raw(changeset), &count, &bytes));
    return taken(bytes, count);
}

std::vector<std::string> parts_deleted_by(const Book& book, const std::string& changeset) {
    std::vector<std::string> tags;
    sqlite3_changeset_iter* at = nullptr;
    check_sqlite(book, sqlite3changeset_start(&at, size_of(changeset), raw(changeset)));
    while (sqlite3changeset_next(at) == SQLITE_ROW) {
        const Operation operation = operation_of(at);
        sqlite3_value* tag = nullptr;
        if (operation.table == "part" && operation.kind == SQLITE_DELETE &&
            sqlite3changeset_old(at, 0, &tag) == SQLITE_OK) {
            tags.push_back(text_of(tag));
        }
    }
    check_sqlite(book, sqlite3changeset_finalize(at));
    return tags;
}

std::vector<Obstacle> apply_changeset(const Book& book, const std::string& changeset) {
    Meeting meeting;
    meeting.book = &book;
    check_sqlite(book, sqlite3changeset_apply(handle(book), size_of(changeset), raw(changeset), is_ours,
                                              on_conflict, &meeting));
    if (meeting.obstacles.empty() && meeting.points_to_nothing) {
        return left_without_ground(book);
    }
    return meeting.obstacles;
}

}  // namespace stripbook::book
