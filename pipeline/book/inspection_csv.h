// A bench session as CSV: findings, gauge readings and limits of many parts, all or nothing.
#pragma once

#include <filesystem>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/inspection.h"
#include "number/length_text.h"

namespace stripbook::book {

/// What one row says of a part; any of the three may be missing.
struct SessionRow {
    explicit SessionRow(number::TagNumber t) : tag(std::move(t)) {}
    int line = 0;  ///< of the file
    number::TagNumber tag;
    std::optional<Finding> finding;
    std::optional<GaugeReading> reading;
    std::optional<GaugeLimit> limit;
};

/// Who and when, where the file does not say; and the unit of lengths without one.
struct SessionDefaults {
    std::string by;
    std::string on;
    number::LengthUnit unit = number::LengthUnit::mm;
};

/// Reads a session. Columns by name, in any order, only `tag` needed: finding, where, how bad, photos (p12
/// p13); feature, at, reading, instrument, u; at least, at most, of (value or spread), source; by, date. A
/// row needs a finding, a reading or a limit. Separators, quoting and the decimal comma as in the parts list;
/// a reading without `u` takes the last one given for its instrument, in the file or in the book. Throws
/// BadFile naming file and line.
std::vector<SessionRow> read_session(const Book& book, const std::filesystem::path& file,
                                     const SessionDefaults& defaults);

/// Keeps everything or nothing. Returns how many entries were kept. Throws BadFile naming the line.
int keep_session(Book& book, const std::vector<SessionRow>& rows, const std::string& file_name,
                 const std::string& who);

/// 2026-11-25, a day that exists.
bool is_date(const std::string& text);

/// "p12,p13", "p12 p13" or "12" as photos of the book. Throws WrongUse for what is none.
std::vector<PhotoNumber> photos_from_typed(const Book& book, const std::string& text);

}  // namespace stripbook::book
