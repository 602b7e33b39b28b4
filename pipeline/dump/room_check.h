// Whether the card fits, asked before anything is copied.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "book/book.h"
#include "dump/card_walk.h"
#include "dump/file_door.h"
#include "dump/second_copies.h"

namespace stripbook::dump {

/// Throws OutsideError with both numbers when the files of the card that the book does not know need more
/// than is free on the book's disk or the second folder's (`second` may be null). Files are taken for known
/// by their length alone, since nothing was read yet: the check may let a card through that does not fit,
/// never hold one up that does.
void check_room(const book::Book& book, const std::vector<CardEntry>& files, const SecondCopies* second,
                FileDoor& door);

/// "812 bytes", "3.4 MB", "31.2 GB" (powers of 1000, as on the card's label)
std::string size_text(std::uint64_t bytes);

}  // namespace stripbook::dump
