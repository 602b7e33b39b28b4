// Values in a form that fits a column, and back. What cannot be read back is a damaged book.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "book/records.h"

namespace stripbook::book {

/// Throws BookError when `text` is no tag number.
number::TagNumber tag_from_stored(const std::string& text);

/// Lists and maps of text as JSON; reading throws BookError.
std::string stored_list(const std::vector<std::string>& list);
std::vector<std::string> list_from_stored(const std::string& text);
std::string stored_map(const std::map<std::string, std::string>& map);
std::map<std::string, std::string> map_from_stored(const std::string& text);

std::string stored_kind(FileKind kind);
FileKind kind_from_stored(const std::string& text);
std::string stored_sighting_kind(SightingKind kind);
SightingKind sighting_kind_from_stored(const std::string& text);
std::string stored_read_state(ReadState state);
ReadState read_state_from_stored(const std::string& text);

}  // namespace stripbook::book
