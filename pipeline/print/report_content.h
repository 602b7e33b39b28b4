// What one report shows, gathered before the first line is drawn. Plain values: no book and no file is needed
// here.
#pragma once

#include <map>
#include <string>

#include "book/part_file.h"
#include "photo/print_copy.h"

namespace stripbook::print {

struct ReportContent {
    std::string machine;  ///< the book's title
    std::string book_code;
    std::string workshop;  ///< may be empty
    const book::PartFile& part_file;
    /// Of every photo that is no video. One without a copy, or with an empty one, is shown as a note with its
    /// fault.
    std::map<book::PhotoNumber, photo::PrintCopy> copies;
    std::string date;
    std::string program;     ///< "stripbook 0.1.0"
    bool in_inches = false;  ///< lengths in inches first, with the millimetres
    /// The photos with dimensions drawn on them, upright, by measurement; those that are there.
    std::map<std::int64_t, photo::PrintCopy> overlays{};
    std::string currency{};  ///< of prices; may be empty
    bool for_donor = false;  ///< `part_file` is a donor copy: what it leaves out is not asked for either
    bool with_forms = true;  ///< empty rows and lines to write on, and the sign-off
};

}  // namespace stripbook::print
