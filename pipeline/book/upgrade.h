// Bringing an older book.db to the format of this program: copied aside first, then all steps in one
// transaction.
#pragma once

#include <SQLiteCpp/Database.h>

#include <filesystem>
#include <string>
#include <vector>

namespace stripbook::book {

/// The SQL that makes format `from_format` + 1 out of `from_format`.
struct UpgradeStep {
    int from_format = 0;
    std::string sql;
};

/// The format a program writes, and the steps from every older one.
struct Formats {
    int current = 1;
    std::vector<UpgradeStep> steps;
};

/// Those of this program (upgrade_steps.cpp).
const Formats& formats();

/// Runs the steps from the database's format to the current one, in one transaction. Throws
/// SQLite::Exception, and then nothing is changed.
void run_steps(SQLite::Database& database, const Formats& to);

/// Copies `file` (open as `database`, locked by the caller) aside as book.db.format-N and runs the steps.
/// Returns what there is to say to the person. Throws BookError or OutsideError; then the old format is
/// unchanged. When the process dies on the way, the next call begins again from the old format.
std::string upgrade(SQLite::Database& database, const std::filesystem::path& file, const Formats& to);

}  // namespace stripbook::book
