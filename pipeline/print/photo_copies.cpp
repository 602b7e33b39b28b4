#include "print/photo_copies.h"

#include <fmt/format.h>

#include <cmath>
#include <fstream>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "book/photos.h"
#include "errors.h"
#include "photo/worker_pool.h"
#include "print/kept_copies.h"
#include "print/report_sections.h"

namespace stripbook::print {

namespace {

constexpr double mm_per_inch = 25.4;

int pixels_for(double side_mm, double dots_per_inch) {
    return static_cast<int>(std::lround(side_mm / mm_per_inch * dots_per_inch));
}

// A job is the pixels needed, a line end, and the path.
std::string job_for(const std::filesystem::path& file, int long_side_px) {
    return fmt::format("{}\n{}", long_side_px, file.string());
}

std::string read_whole(const std::string& file) {
    std::ifstream in(file, std::ios::binary);
    std::string bytes((std::istreambuf_iterator<char>(in)), std::istreambuf_iterator<char>());
    if (!in.is_open() || in.bad()) {
        throw OutsideError("the stored file is missing or cannot be read; run the check of the originals");
    }
    return bytes;
}

std::string copy_in_worker(const std::string& job) {
    const auto end = job.find('\n');
    const int long_side_px = std::stoi(job.substr(0, end));
    return photo::to_bytes(photo::make_print_copy(read_whole(job.substr(end + 1)), long_side_px));
}

// The photo itself, or the picture that stands for a video.
std::filesystem::path picture_file(const book::Book& book, const book::Photo& photo) {
    return photo.original.kind == book::FileKind::video ? book::poster_file(book, photo.number)
                                                        : book.folder() / photo.original.stored_path;
}

photo::PrintCopy copy_from(const photo::Outcome& outcome) {
    if (outcome.end == photo::Outcome::End::done) {
        return photo::print_copy_from_bytes(outcome.bytes);
    }
    photo::PrintCopy none;
    none.fault = outcome.note;
    return none;
}

struct WantedCopy {
    book::Photo photo;
    int long_side_px = 0;
    bool kept = false;  ///< between reports
};

using CopyMade = std::function<void(std::size_t index, photo::PrintCopy copy)>;

// Takes the copies that the book keeps, and makes the others.
void make_copies(const book::Book& book, const std::vector<WantedCopy>& wanted, const CopyMade& made,
                 const std::function<bool()>& stop) {
    std::vector<std::string> jobs;
    std::vector<std::size_t> indices;
    for (std::size_t i = 0; i < wanted.size(); ++i) {
        auto kept = wanted[i].kept ? kept_copy(book, wanted[i].photo, wanted[i].long_side_px) : std::nullopt;
        if (kept) {
            made(i, std::move(*kept));
        } else {
            jobs.push_back(job_for(picture_file(book, wanted[i].photo), wanted[i].long_side_px));
            indices.push_back(i);
        }
    }
    photo::run_in_workers(
        copy_in_worker, jobs, {},
        [&](std::size_t index, const photo::Outcome& outcome) {
            const WantedCopy& of = wanted[indices[index]];
            auto copy = copy_from(outcome);
            if (of.kept) {
                keep_copy(book, of.photo.number, of.long_side_px, copy);
            }
            made(indices[index], std::move(copy));
        },
        stop);
}

// A picture with fewer dots than usual is made for one mail, and a video's stands for it already.
bool is_kept(const book::Photo& photo, double dots_per_inch) {
    return photo.original.kind != book::FileKind::video && dots_per_inch == good_dots_per_inch;
}

std::vector<WantedCopy> wanted_for_paper(const book::Book& book, const book::PartFile& part_file,
                                         const Paper& paper, double dots_per_inch) {
    const auto sides_mm = longest_sides_mm(part_file, paper);
    std::vector<WantedCopy> wanted;
    for (std::size_t i = 0; i < part_file.photos.size(); ++i) {
        const book::Photo& photo = part_file.photos[i].photo;
        if (photo.original.kind != book::FileKind::video ||
            std::filesystem::exists(picture_file(book, photo))) {
            wanted.push_back({photo, pixels_for(sides_mm[i], dots_per_inch), is_kept(photo, dots_per_inch)});
        }
    }
    return wanted;
}

}  // namespace

std::map<book::PhotoNumber, photo::PrintCopy> copies_for_paper(const book::Book& book,
                                                               const book::PartFile& part_file,
                                                               const Paper& paper, double dots_per_inch,
                                                               const std::function<bool()>& stop) {
    const auto wanted = wanted_for_paper(book, part_file, paper, dots_per_inch);
    std::map<book::PhotoNumber, photo::PrintCopy> copies;
    make_copies(
        book, wanted,
        [&](std::size_t index, photo::PrintCopy copy) {
            copies[wanted[index].photo.number] = std::move(copy);
        },
        stop);
    return copies;
}

void keep_copies_for_paper(const book::Book& book, const std::vector<book::PartFile>& part_files,
                           const Paper& paper, double dots_per_inch, const std::function<bool()>& stop) {
    std::vector<WantedCopy> wanted;
    for (const auto& part_file : part_files) {
        for (auto& copy : wanted_for_paper(book, part_file, paper, dots_per_inch)) {
            std::error_code missing;
            const auto file = kept_copy_file(book, copy.photo.number, copy.long_side_px);
            if (copy.kept && !std::filesystem::exists(file, missing)) {
                wanted.push_back(std::move(copy));
            }
        }
    }
    make_copies(
        book, wanted, [](std::size_t, const photo::PrintCopy&) {}, stop);
}

std::map<book::PhotoNumber, photo::PrintCopy> small_copies(
    const book::Book& book, const std::vector<book::Photo>& photos, double side_mm,
    const std::function<void(std::size_t done, std::size_t all)>& progress,
    const std::function<bool()>& stop) {
    std::vector<WantedCopy> wanted;
    wanted.reserve(photos.size());
    for (const auto& photo : photos) {
        wanted.push_back(
            {photo, pixels_for(side_mm, good_dots_per_inch), is_kept(photo, good_dots_per_inch)});
    }
    std::map<book::PhotoNumber, photo::PrintCopy> copies;
    std::size_t done = 0;
    make_copies(
        book, wanted,
        [&](std::size_t index, photo::PrintCopy copy) {
            copies[photos[index].number] = std::move(copy);
            progress(++done, photos.size());
        },
        stop);
    return copies;
}

std::map<std::int64_t, photo::PrintCopy> overlays_for_paper(const book::Book& book,
                                                            const book::PartFile& part_file,
                                                            double dots_per_inch) {
    // As wide as the text on either paper.
    const double width_mm = Paper::us_letter().width - ReportFlow::margin_left - ReportFlow::margin_right;
    std::vector<std::string> jobs;
    std::vector<std::int64_t> ids;
    for (const auto& measurement : part_file.measurements) {
        const auto file = book::overlay_file(book, measurement);
        if (measurement.refusal.empty() && std::filesystem::exists(file)) {
            jobs.push_back(job_for(file, pixels_for(width_mm, dots_per_inch)));
            ids.push_back(measurement.id);
        }
    }
    std::map<std::int64_t, photo::PrintCopy> overlays;
    photo::run_in_workers(copy_in_worker, jobs, {}, [&](std::size_t index, const photo::Outcome& outcome) {
        overlays[ids[index]] = copy_from(outcome);
    });
    return overlays;
}

photo::PrintCopy copy_for_paper(const book::Book& book, const book::Photo& photo, double side_mm,
                                double dots_per_inch) {
    photo::PrintCopy copy;
    make_copies(book, {{photo, pixels_for(side_mm, dots_per_inch), is_kept(photo, dots_per_inch)}},
                [&](std::size_t, photo::PrintCopy made) { copy = std::move(made); }, {});
    return copy;
}

}  // namespace stripbook::print
