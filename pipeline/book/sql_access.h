// The door to the database, for the files of this room (and its tests) only.
#pragma once

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <cstdint>
#include <filesystem>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"

namespace stripbook::book {

/// Statements that are not in use, by their SQL: making one takes SQLite longer than running it.
using IdleStatements = std::multimap<std::string, std::unique_ptr<SQLite::Statement>, std::less<>>;

struct SqlAccess {
    static SQLite::Database& database(const Book& book);
    static std::filesystem::path database_file(const Book& book);
    static IdleStatements& idle_statements(const Book& book);
    /// Throws BookError when SQLite has undone the running transaction by itself (a full disk): what came
    /// after would otherwise be kept without what came before.
    static void check_transaction(const Book& book);
};

/// Raw bytes, kept as they are (names on a card).
struct RawBytes {
    std::string bytes;
};

/// One SQL statement, within one function: it must not outlive the book. Values are bound in order to its
/// question marks. Throws Error with plain words only.
class Query {
  public:
    Query(const Book& book, const std::string& sql);
    Query(const Query&) = delete;
    Query& operator=(const Query&) = delete;
    ~Query();

    /// Begins again with these values.
    template <typename... Values>
    Query& with(const Values&... values) {
        reset();
        int index = 0;
        (bind(++index, values), ...);
        return *this;
    }

    /// The same for values that are counted only when the program runs.
    Query& with_all(const std::vector<std::string>& values) {
        reset();
        int index = 0;
        for (const auto& value : values) {
            bind(++index, value);
        }
        return *this;
    }

    /// The next row, if there is one.
    bool next();
    /// Runs a statement that gives no rows. Returns how many rows it changed.
    int run();

    [[nodiscard]] bool is_null(int column);
    [[nodiscard]] std::int64_t whole(int column);
    [[nodiscard]] int small(int column) { return static_cast<int>(whole(column)); }
    [[nodiscard]] bool yes(int column) { return whole(column) != 0; }
    [[nodiscard]] double real(int column);
    [[nodiscard]] std::string text(int column);
    [[nodiscard]] std::optional<int> maybe_small(int column);
    [[nodiscard]] std::optional<double> maybe_real(int column);
    [[nodiscard]] std::optional<std::string> maybe_text(int column);

  private:
    void reset();
    void bind(int index, std::int64_t value);
    void bind(int index, std::uint64_t value) { bind(index, static_cast<std::int64_t>(value)); }
    void bind(int index, int value) { bind(index, static_cast<std::int64_t>(value)); }
    void bind(int index, bool value) { bind(index, static_cast<std::int64_t>(value)); }
    void bind(int index, double value);
    void bind(int index, const std::string& value);
    void bind(int index, const char* value) { bind(index, std::string(value)); }
    void bind(int index, const RawBytes& value);
    void bind(int index, std::nullopt_t nothing);
    template <typename Value>
    void bind(int index, const std::optional<Value>& value) {
        value ? bind(index, *value) : bind(index, std::nullopt);
    }

    const Book& book_;
    std::string sql_;
    std::unique_ptr<SQLite::Statement> statement_;
};

/// The row number that the last INSERT was given.
std::int64_t last_row_number(const Book& book);

}  // namespace stripbook::book
