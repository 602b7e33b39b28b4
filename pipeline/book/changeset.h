// SQLite's changesets: what a transaction changed, row by row, and the way back. For this room only.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "book/book.h"

struct sqlite3_session;

namespace stripbook::book {

/// Throws when `result` is not SQLITE_OK.
void check_sqlite(const Book& book, int result);

/// Watches the tables of people (act_recording.h) while it lives.
class Session {
  public:
    explicit Session(const Book& book);
    ~Session();
    Session(const Session&) = delete;
    Session& operator=(const Session&) = delete;
    /// Empty when nothing changed.
    [[nodiscard]] std::string changeset() const;

  private:
    const Book& book_;
    sqlite3_session* session_ = nullptr;
};

/// Both changesets, one after the other, as one.
std::string joined(const Book& book, const std::string& first, const std::string& then);

/// The changeset that leads back.
std::string inverted(const Book& book, const std::string& changeset);

/// The tags of the part records that a changeset deletes.
std::vector<std::string> parts_deleted_by(const Book& book, const std::string& changeset);

/// A row that is not as the changeset expects it.
struct Obstacle {
    std::string table;
    std::string record;  ///< as the history calls it: "PET-00417-D", "p12", else the table and its key
    std::string field;   ///< the column that differs; empty: the row as a whole
    std::string was;     ///< what the changeset expects
    std::string is;      ///< what the book has
    bool is_gone = false;
};

/// Carries a changeset out within the running transaction. Returns what stands in its way; when that is not
/// empty, the transaction must not be kept.
std::vector<Obstacle> apply_changeset(const Book& book, const std::string& changeset);

}  // namespace stripbook::book
