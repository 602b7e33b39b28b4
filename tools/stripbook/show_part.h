// A part in words, as `find` and `parts show` print it.
#pragma once

#include "book/part_file.h"

namespace stripbook::cli {

/// "PET-00417-D  Axlebox cover".
std::string heading_of(const book::Part& part);

/// Heading, what the record holds, and the photos by stage with their files.
void print_part(const book::Book& book, const book::PartFile& file);

/// The changes of its record, oldest first.
void print_history(const book::PartFile& file);

}  // namespace stripbook::cli
