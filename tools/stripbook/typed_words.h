// What people type on the command line, read in one way by every command and answered in our own words.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "number/tag_number.h"

namespace stripbook::cli {

/// "2026-11-25" or "today". Throws WrongUse naming `option`.
std::string typed_day(const std::string& text, const std::string& option);

/// A whole number from 0. Throws WrongUse naming `option`.
int typed_whole(const std::string& text, const std::string& option);

/// Hours: "3", "1.5", "1,5 h".
double typed_hours(const std::string& text);

/// Tag numbers in the order typed, each once.
std::vector<number::TagNumber> typed_tags(const book::Book& book, const std::vector<std::string>& texts);

/// Several words as one text: `use again`.
std::string as_one_text(const std::vector<std::string>& words);

}  // namespace stripbook::cli
