// Contact sheets: the photos of some parts as small pictures with their numbers, to look through on paper.
#pragma once

#include <filesystem>
#include <functional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/part_file.h"

namespace stripbook::print {

/// Width of a picture's place; the picture is as large as fits.
inline constexpr double contact_picture_mm = 41;

struct ContactSheetOptions {
    std::string what;  ///< what was asked for, in the head of every page
    std::string date;  ///< "2026-11-25": printed, and the PDF's own dates; same book and date, same bytes
    std::string version;
    bool letter = false;                                              ///< US Letter, else A4
    std::function<void(std::size_t done, std::size_t all)> progress;  ///< photos
    std::function<bool()> stop;
};

struct ContactSheetResult {
    std::filesystem::path file;
    int pages = 0;
    int photos = 0;  ///< shown as pictures
    std::vector<std::string> remarks;
};

/// Writes the photos of `files`, in their order, to `out` (a temporary name, then renamed). Photos are
/// decoded in worker processes, in pieces: memory does not grow with their number. Throws WrongUse when there
/// is no photo, OutsideError when it cannot be written, Stopped.
ContactSheetResult write_contact_sheet(const book::Book& book, const std::vector<book::PartFile>& files,
                                       const std::filesystem::path& out, const ContactSheetOptions& options);

}  // namespace stripbook::print
