// Photos as the tables hold them, for the files of this room that need some of them only.
#pragma once

#include <string>
#include <vector>

#include "book/records.h"
#include "book/sql_access.h"

namespace stripbook::book {

/// "SELECT ... FROM photo ..." to which a WHERE and an ORDER BY are added. The photo's own columns are named
/// photo.*
extern const char* const select_photos;

Photo photo_of_row(Query& row);

/// "Ferrow FV-20 A10442", or the card's folder where the camera does not say what it is.
std::string camera_words(const std::string& maker, const std::string& model, const std::string& serial,
                         const std::string& card);

}  // namespace stripbook::book
