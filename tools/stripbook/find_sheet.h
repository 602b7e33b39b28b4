// The contact sheet of find.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "book/part_file.h"
#include "print/contact_sheet.h"

namespace stripbook::cli {

struct TypedSheet {
    bool wanted = false;
    std::string out;
    std::string paper = "a4";
};

/// The photos of the parts that were found, as a PDF. `what`: what was asked for. Throws WrongUse when they
/// have no photo.
print::ContactSheetResult write_find_sheet(const book::Book& book, const std::vector<book::PartFile>& files,
                                           const std::string& what, const TypedSheet& typed);

}  // namespace stripbook::cli
