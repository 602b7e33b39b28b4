// Printed scale marker sheets: which are in use, and what a person measured on them.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "number/sheet_check.h"

namespace stripbook::book {

/// A person's measuring of a sheet.
struct MarkerCheck {
    number::SheetMeasured measured;
    std::string at;  ///< UTC, RFC 3339
    std::string who;
};

struct MarkerSheet {
    std::string kind;  ///< pocket, bench or mat
    int number = 0;    ///< running in its kind, printed on the sheet and in its QR code
    int pieces = 1;    ///< sheets of paper it is glued from
    std::string at;    ///< when it was printed: UTC, RFC 3339
    std::string who;
    bool retired = false;
    std::optional<MarkerCheck> check;  ///< the last one
};

/// All sheets by kind and number.
std::vector<MarkerSheet> marker_sheets(const Book& book);

/// The next `count` numbers of a kind, kept as printed. WrongUse beyond 9999.
std::vector<MarkerSheet> add_marker_sheets(Book& book, const std::string& kind, int count, int pieces,
                                           const std::string& who);

/// A sheet that another book printed. WrongUse when this book has one of that number.
MarkerSheet add_foreign_sheet(Book& book, const std::string& kind, int number, const std::string& who);

/// Takes sheets back whose file was never written.
void take_back_marker_sheets(Book& book, const std::vector<MarkerSheet>& sheets);

/// Keeps what was measured; the earlier checks stay. BookError when there is no such sheet.
void save_marker_check(Book& book, const std::string& kind, int number, const number::SheetMeasured& measured,
                       const std::string& who);

/// The sheet is lost, bent or thrown away: it no longer counts as in use.
void retire_marker_sheet(Book& book, const std::string& kind, int number, const std::string& who);

}  // namespace stripbook::book
