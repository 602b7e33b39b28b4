#include "print/photo_copies.h"

#include <fmt/format.h>

#include <cmath>
#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "book/photos.h"
#include "errors.h"
#include "photo/worker_pool.h"
#include "print/report_sections.h"

namespace stripbook::print {

namespace {

constexpr double mm_per_inch = 25.4;

// A job is the pixels needed, a line end, and the path.
std::string job_for(const std::filesystem::path& file, double side_mm, double dots_per_inch) {
    return fmt::format("{}\n{}", std::lround(side_mm / mm_per_inch * dots_per_inch), file.string());
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

}  // namespace

std::map<book::PhotoNumber, photo::PrintCopy> copies_for_paper(const book::Book& book,
                                                               const book::PartFile& part_file,
                                                               const Paper& paper, double dots_per_inch,
                                                               const std::function<bool()>& stop) {
    const auto sides_mm = longest_sides_mm(part_file, paper);
    std::vector<std::string> jobs;
    std::vector<book::PhotoNumber> numbers;
    for (std::size_t i = 0; i < part_file.photos.size(); ++i) {
        const book::Photo& photo = part_file.photos[i].photo;
        const auto picture = picture_file(book, photo);
        if (photo.original.kind != book::FileKind::video || std::filesystem::exists(picture)) {
            jobs.push_back(job_for(picture, sides_mm[i], dots_per_inch));
            numbers.push_back(photo.number);
        }
    }
    std::map<book::PhotoNumber, photo::PrintCopy> copies;
    photo::run_in_workers(
        copy_in_worker, jobs, {},
        [&](std::size_t index, const photo::Outcome& outcome) {
            copies[numbers[index]] = copy_from(outcome);
        },
        stop);
    return copies;
}

std::map<book::PhotoNumber, photo::PrintCopy> small_copies(
    const book::Book& book, const std::vector<book::Photo>& photos, double side_mm,
    const std::function<void(std::size_t done, std::size_t all)>& progress,
    const std::function<bool()>& stop) {
    std::vector<std::string> jobs;
    for (const auto& photo : photos) {
        jobs.push_back(job_for(picture_file(book, photo), side_mm, good_dots_per_inch));
    }
    std::map<book::PhotoNumber, photo::PrintCopy> copies;
    std::size_t done = 0;
    photo::run_in_workers(
        copy_in_worker, jobs, {},
        [&](std::size_t index, const photo::Outcome& outcome) {
            copies[photos[index].number] = copy_from(outcome);
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
            jobs.push_back(job_for(file, width_mm, dots_per_inch));
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
    photo::run_in_workers(copy_in_worker, {job_for(picture_file(book, photo), side_mm, dots_per_inch)}, {},
                          [&](std::size_t, const photo::Outcome& outcome) { copy = copy_from(outcome); });
    return copy;
}

}  // namespace stripbook::print
