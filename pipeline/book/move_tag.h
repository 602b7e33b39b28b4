// A paper tag that was hung on the wrong part from some time on.
#pragma once

#include <string>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// From `from_s` (workshop time as if it were UTC) on, the tag numbered `tag` means `to`. Photos follow when
/// they are linked anew, which belongs into the same transaction; of the record, what was entered under the
/// tag for that day or a later one follows at once: inspection entries and stages. Throws WrongUse when a
/// part is unknown, or the tag means that part already.
void move_tag(Book& book, const number::TagNumber& tag, const number::TagNumber& to, double from_s,
              const std::string& who);

/// The same both ways at once: two tags were mixed up.
void swap_tags(Book& book, const number::TagNumber& one, const number::TagNumber& other, double from_s,
               const std::string& who);

}  // namespace stripbook::book
