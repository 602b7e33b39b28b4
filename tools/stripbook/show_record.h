// Inspection, path, and what belongs to a part, in words, as `find`, `parts show` and their own commands
// print them.
#pragma once

#include <string>

#include "book/part_file.h"
#include "print/inspection_words.h"

namespace stripbook::cli {

/// Findings, and readings with their judgement. `struck_too`: also entries that were corrected.
void print_inspection(const book::PartFile& file, const print::LengthStyle& style, bool struck_too);

/// The path with its reason, order and work.
void print_path(const book::PartFile& file, const std::string& currency);

/// What it was taken from, what was taken from it, and the fasteners bagged under its tag.
void print_belongings(const book::PartFile& file);

}  // namespace stripbook::cli
