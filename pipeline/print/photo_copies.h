// The photos of a part made ready for paper, each in a worker process.
#pragma once

#include <filesystem>
#include <functional>
#include <map>
#include <vector>

#include "book/part_file.h"
#include "photo/print_copy.h"
#include "print/report_flow.h"

namespace stripbook::print {

/// Dots of the photo to an inch of paper: a good printer shows no more of a photo.
inline constexpr double good_dots_per_inch = 200;

/// A copy of every photo, and of the picture that stands for a video where there is one, at the size it gets
/// on this paper. A photo that cannot be read, that does not decode or whose worker died has an empty copy
/// with the reason. Copies at good_dots_per_inch are kept in the book (kept_copies.h). Throws Stopped when
/// `stop` says so.
std::map<book::PhotoNumber, photo::PrintCopy> copies_for_paper(const book::Book& book,
                                                               const book::PartFile& part_file,
                                                               const Paper& paper, double dots_per_inch,
                                                               const std::function<bool()>& stop);

/// Makes and keeps the copies that the reports of these parts will ask for, all in one go: the workers never
/// wait for a page to be drawn. Does nothing for dots that are not kept.
void keep_copies_for_paper(const book::Book& book, const std::vector<book::PartFile>& part_files,
                           const Paper& paper, double dots_per_inch, const std::function<bool()>& stop);

/// Small copies of photos, whose long side gets this many mm on paper; of a video the picture that stands for
/// it, where there is one. Otherwise as above. `progress` is told how many of how many are done.
std::map<book::PhotoNumber, photo::PrintCopy> small_copies(
    const book::Book& book, const std::vector<book::Photo>& photos, double side_mm,
    const std::function<void(std::size_t done, std::size_t all)>& progress,
    const std::function<bool()>& stop);

/// The overlays of the part's measurements that lie in the book, by measurement.
std::map<std::int64_t, photo::PrintCopy> overlays_for_paper(const book::Book& book,
                                                            const book::PartFile& part_file,
                                                            double dots_per_inch);

/// One photo for a box of this width in mm.
photo::PrintCopy copy_for_paper(const book::Book& book, const book::Photo& photo, double side_mm,
                                double dots_per_inch);

}  // namespace stripbook::print
