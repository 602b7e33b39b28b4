// What the printing commands share: today's date, and where a finished PDF goes.
#pragma once

#include <filesystem>
#include <string>

#include "book/book.h"

namespace stripbook::cli {

/// "2026-11-25", local.
std::string today();

/// `typed` if it was given, else `name` in the book's reports folder, which is made if missing. Throws
/// WrongUse when `typed` is no .pdf, OutsideError when the folder cannot be made.
std::filesystem::path pdf_path(const book::Book& book, const std::string& typed, const std::string& name);

}  // namespace stripbook::cli
