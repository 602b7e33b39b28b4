#include "book/sql_access.h"

#include <utility>

#include "book/sql_errors.h"

namespace stripbook::book {

namespace {

// Runs `work`, which speaks to SQLite, and turns what it throws into plain words.
template <typename Work>
auto in_words(const Book& book, const Work& work) {
    try {
        return work();
    } catch (const SQLite::Exception& error) {
        throw_in_words(error, SqlAccess::database_file(book));
    }
}

std::unique_ptr<SQLite::Statement> prepared(const Book& book, const std::string& sql) {
    SqlAccess::check_transaction(book);
    auto& idle = SqlAccess::idle_statements(book);
    if (const auto known = idle.find(sql); known != idle.end()) {
        auto statement = std::move(known->second);
        idle.erase(known);
        return statement;
    }
    return in_words(book,
                    [&] { return std::make_unique<SQLite::Statement>(SqlAccess::database(book), sql); });
}

}  // namespace

Query::Query(const Book& book, const std::string& sql)
    : book_(book), sql_(sql), statement_(prepared(book, sql)) {}

Query::~Query() {
    // A statement that is not reset holds SQLite's lock on the file.
    if (statement_->tryReset() == 0) {
        statement_->clearBindings();
        SqlAccess::idle_statements(book_).emplace(std::move(sql_), std::move(statement_));
    }
}

void Query::reset() {
    in_words(book_, [&] {
        statement_->reset();
        statement_->clearBindings();
    });
}

bool Query::next() {
    return in_words(book_, [&] { return statement_->executeStep(); });
}

int Query::run() {
    SqlAccess::check_transaction(book_);
    return in_words(book_, [&] { return statement_->exec(); });
}

bool Query::is_null(int column) {
    return in_words(book_, [&] { return statement_->getColumn(column).isNull(); });
}

std::int64_t Query::whole(int column) {
    return in_words(book_, [&] { return statement_->getColumn(column).getInt64(); });
}

double Query::real(int column) {
    return in_words(book_, [&] { return statement_->getColumn(column).getDouble(); });
}

std::string Query::text(int column) {
    return in_words(book_, [&] { return statement_->getColumn(column).getString(); });
}

std::optional<int> Query::maybe_small(int column) {
    return is_null(column) ? std::nullopt : std::optional(small(column));
}

std::optional<double> Query::maybe_real(int column) {
    return is_null(column) ? std::nullopt : std::optional(real(column));
}

std::optional<std::string> Query::maybe_text(int column) {
    return is_null(column) ? std::nullopt : std::optional(text(column));
}

void Query::bind(int index, std::int64_t value) {
    in_words(book_, [&] { statement_->bind(index, value); });
}

void Query::bind(int index, double value) {
    in_words(book_, [&] { statement_->bind(index, value); });
}

void Query::bind(int index, const std::string& value) {
    in_words(book_, [&] { statement_->bind(index, value); });
}

void Query::bind(int index, const RawBytes& value) {
    in_words(book_, [&] {
        // SQLite takes a null pointer for NULL, and an empty std::string is never one.
        statement_->bind(index, value.bytes.data(), static_cast<int>(value.bytes.size()));
    });
}

void Query::bind(int index, std::nullopt_t /*nothing*/) {
    in_words(book_, [&] { statement_->bind(index); });
}

std::int64_t last_row_number(const Book& book) {
    return SqlAccess::database(book).getLastInsertRowid();
}

}  // namespace stripbook::book
