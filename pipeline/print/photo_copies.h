// The photos of a part made ready for paper, each in a worker process.
#pragma once

#include <filesystem>
#include <functional>
#include <map>

#include "book/part_file.h"
#include "photo/print_copy.h"
#include "print/report_flow.h"

namespace stripbook::print {

/// Dots of the photo to an inch of paper: a good printer shows no more of a photo.
inline constexpr double dots_per_inch = 200;

/// A copy of every photo that is no video, at the size it gets on this paper. A photo that cannot be read,
/// that does not decode or whose worker died has an empty copy with the reason. Throws Stopped when `stop`
/// says so.
std::map<book::PhotoNumber, photo::PrintCopy> copies_for_paper(const std::filesystem::path& book_folder,
                                                               const book::PartFile& part_file,
                                                               const Paper& paper,
                                                               const std::function<bool()>& stop);

/// The overlays of the part's measurements that lie in the book, by measurement.
std::map<std::int64_t, photo::PrintCopy> overlays_for_paper(const book::Book& book,
                                                            const book::PartFile& part_file);

}  // namespace stripbook::print
