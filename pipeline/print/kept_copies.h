// Print copies that lie in the book between reports, under derived/: the next report need not decode the
// photos again. They can be deleted at any time; a book that cannot be written only costs that time.
#pragma once

#include <filesystem>
#include <optional>

#include "book/book.h"
#include "book/records.h"
#include "photo/print_copy.h"

namespace stripbook::print {

/// Where the copy with this long side lies: derived/print-1/p12-1378.jpg. The folder's number goes up when
/// copies are made in another way.
std::filesystem::path kept_copy_file(const book::Book& book, book::PhotoNumber number, int long_side_px);

/// Nothing where there is none, where it was cut short, or where the original is missing or has another size
/// than the book says: then the photo is to be read, and says so itself.
std::optional<photo::PrintCopy> kept_copy(const book::Book& book, const book::Photo& photo, int long_side_px);

/// Keeps a copy without a fault. Nothing happens where it cannot be written.
void keep_copy(const book::Book& book, book::PhotoNumber number, int long_side_px,
               const photo::PrintCopy& copy);

}  // namespace stripbook::print
