#include "sample_maker/card_folder.h"

#include <fmt/format.h>

#include <chrono>
#include <fstream>
#include <system_error>

#include "errors.h"

namespace stripbook::sample_maker {

namespace {

struct CalendarTime {
    int year = 0;
    unsigned month = 0, day = 0;
    std::int64_t hour = 0, minute = 0, second = 0, millisecond = 0;
};

CalendarTime calendar_time(std::int64_t milliseconds) {
    using namespace std::chrono;
    const sys_time<std::chrono::milliseconds> moment{std::chrono::milliseconds(milliseconds)};
    const auto day = floor<days>(moment);
    const year_month_day date(day);
    const hh_mm_ss clock(moment - day);
    return {int(date.year()),          unsigned(date.month()),  unsigned(date.day()),
            clock.hours().count(),     clock.minutes().count(), clock.seconds().count(),
            clock.subseconds().count()};
}

}  // namespace

void make_empty_folder(const std::filesystem::path& folder) {
    std::error_code error;
    std::filesystem::create_directories(folder, error);
    const bool empty = !error && std::filesystem::is_empty(folder, error);
    if (error) {
        throw OutsideError(
            fmt::format("The folder {} cannot be used: {}. Give another.", folder.string(), error.message()));
    }
    if (!empty) {
        throw WrongUse(
            fmt::format("The folder {} is not empty: give a new one, or empty it.", folder.string()));
    }
}

void write_file(const std::filesystem::path& file, const std::string& bytes) {
    std::error_code ignored;  // a folder that is missing shows when the file is opened
    if (file.has_parent_path()) {
        std::filesystem::create_directories(file.parent_path(), ignored);
    }
    std::ofstream out(file, std::ios::binary | std::ios::trunc);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    out.close();
    if (!out) {
        throw OutsideError(
            fmt::format("{} cannot be written: see whether the disk is full or the folder may be written to.",
                        file.string()));
    }
}

DcfCounter::DcfCounter(std::string folder_letters, std::string file_letters, int folder, int file)
    : folder_letters_(std::move(folder_letters)),
      file_letters_(std::move(file_letters)),
      folder_(folder),
      file_(file) {}

std::string DcfCounter::next() {
    if (file_ > 9999) {
        file_ = 1;
        ++folder_;
    }
    if (folder_ > 999) {
        throw WrongUse("A card has room for folders 100 to 999 of 9999 photos: make fewer.");
    }
    return fmt::format("DCIM/{:03}{}/{}{:04}.JPG", folder_, folder_letters_, file_letters_, file_++);
}

void PhotoWriter::write(const Scene& scene, const ShotNotes& notes) {
    const std::string bytes = photo_file_of(scene);
    write_file(top_ / notes.file, bytes);
    shots_.push_back(truth_of_shot(scene, bytes, notes));
}

void PhotoWriter::write(const std::string& file, const std::string& bytes, const nlohmann::json& shot) {
    write_file(top_ / file, bytes);
    shots_.push_back(shot);
}

void PhotoWriter::write_truth(const std::filesystem::path& file, const nlohmann::json& more) const {
    nlohmann::json truth = more;
    truth["shots"] = shots_;
    write_file(file, truth.dump(1) + "\n");
}

std::string written_time(std::int64_t milliseconds) {
    const CalendarTime t = calendar_time(milliseconds);
    return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}.{:03}", t.year, t.month, t.day, t.hour, t.minute,
                       t.second, t.millisecond);
}

std::string exif_time(std::int64_t milliseconds) {
    const CalendarTime t = calendar_time(milliseconds);
    return fmt::format("{:04}:{:02}:{:02} {:02}:{:02}:{:02}", t.year, t.month, t.day, t.hour, t.minute,
                       t.second);
}

std::string exif_hundredths(std::int64_t milliseconds) {
    return fmt::format("{:02}", calendar_time(milliseconds).millisecond / 10);
}

}  // namespace stripbook::sample_maker
