// Places in a document that its list of bookmarks leads to.
#pragma once

#include <cstddef>
#include <string>

namespace stripbook::print {

/// Characters of a bookmark's or a document's title.
inline constexpr std::size_t most_in_a_title = 200;

struct Bookmark {
    std::string title;
    int level = 0;         ///< 0: outermost; one deeper than the last at most
    std::size_t page = 0;  ///< of the document, from 0
    double y = 0;          ///< mm from the page's top
};

}  // namespace stripbook::print
