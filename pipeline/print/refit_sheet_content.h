// What a refit sheet shows of a part. Plain values: no book and no file is needed here.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "book/part_file.h"
#include "book/refit_notes.h"

namespace stripbook::print {

struct RefitSheetPart {
    explicit RefitSheetPart(book::PartFile own) : file(std::move(own)) {}
    book::PartFile file;
    std::optional<book::PartFile> parent;  ///< what it was stripped from
    std::size_t step = 0;                  ///< 0: none, because of a circle
    std::vector<book::RefitNote> notes;
    std::vector<std::string> cautions;
    std::vector<std::string> together_with;  ///< "PET-00424-F Brake block"
    std::vector<std::string> held_up_by;     ///< why it cannot go in yet; empty: it can
    bool in_place = false;
};

/// What head and foot of every page say.
struct RefitSheetWords {
    std::string machine;
    std::string what;  ///< "what can go in now"
    std::string date;
    std::string program;     ///< "stripbook 0.1.0"
    bool in_inches = false;  ///< lengths in inches first, with the millimetres
};

}  // namespace stripbook::print
