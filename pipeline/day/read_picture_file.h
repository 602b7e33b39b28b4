// Which parts a picture shows that is no part of the book: a phone held at a tag on a shelf.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "number/tag_number.h"

namespace stripbook::day {

struct TagsSeen {
    std::vector<number::TagNumber>
        read;           ///< confirmed tags of this book, and parts by other makers' tags; each once
    std::string words;  ///< when there are none: what was seen instead; may be empty
};

/// Reads the file in a worker process; nothing is kept. A number read from fiducials alone counts when the
/// book has such a part. Throws WrongUse when there is no such file, BadFile when it is no picture that can
/// be read.
TagsSeen tags_in_picture_file(const std::string& path, const book::Book& book);

}  // namespace stripbook::day
