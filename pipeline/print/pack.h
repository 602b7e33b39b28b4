// What every printed pack shares: tags, stage cards and scale markers.
#pragma once

#include <string>
#include <vector>

namespace stripbook::print {

struct PackOptions {
    std::string date;     ///< "2026-11-25": printed, and the PDF's own dates
    std::string version;  ///< of the program
};

/// One finished PDF.
struct Pack {
    std::string bytes;
    int pages = 0;
    std::vector<std::string> remarks;  ///< text that could not be printed as written
};

}  // namespace stripbook::print
