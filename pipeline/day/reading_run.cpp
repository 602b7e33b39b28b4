#include "day/reading_run.h"

#include <exception>
#include <filesystem>
#include <fstream>

#include "book/parts.h"
#include "book/photos.h"
#include "book/sightings.h"
#include "day/reader_version.h"

namespace stripbook::day {

namespace {

PhotoReading damaged(const std::string& why) {
    PhotoReading reading;
    reading.facts.read_state = book::ReadState::damaged;
    reading.facts.read_note = why;
    return reading;
}

struct Answer {
    PhotoReading reading;
    bool came_back = true;
};

Answer answer_in(const photo::Outcome& outcome) {
    if (outcome.end != photo::Outcome::End::done) {
        return {damaged("could not be read: " + outcome.note), false};
    }
    try {
        return {reading_from_answer(outcome.bytes), true};
    } catch (const std::exception&) {
        // A worker whose memory was trampled by a damaged file can answer nonsense.
        return {damaged("the reading came back garbled"), false};
    }
}

std::vector<std::string> other_tags_in(const book::Book& book) {
    std::vector<std::string> texts;
    for (const auto& part : book::all_parts(book)) {
        if (!part.other_tag.empty()) {
            texts.push_back(part.other_tag);
        }
    }
    return texts;
}

// A poster can be made again, so it is not synced; one that cannot be written costs the reading nothing.
void write_poster(const std::filesystem::path& file, const std::string& jpeg) {
    std::error_code ignored;
    std::filesystem::create_directories(file.parent_path(), ignored);
    std::ofstream out(file, std::ios::binary | std::ios::trunc);
    out << jpeg;
}

}  // namespace

void read_in_workers(const book::Book& book, const std::vector<book::Photo>& photos,
                     const ReadOptions& options, const WhenRead& when_read) {
    const auto other_tags = other_tags_in(book);
    std::vector<std::string> jobs;
    jobs.reserve(photos.size());
    for (const auto& photo : photos) {
        jobs.push_back(job_for((book.folder() / photo.original.stored_path).string(), photo.original.kind,
                               {book.code(), other_tags}));
    }
    ReadProgress progress{0, jobs.size()};
    const auto take = [&](std::size_t index, const photo::Outcome& outcome) {
        Answer answer = answer_in(outcome);
        answer.reading.facts.read_by = reader_version;
        when_read(photos[index], answer.reading, answer.came_back);
        ++progress.done;
        if (options.progress) {
            options.progress(progress);
        }
    };
    photo::run_in_workers(options.work, jobs, options.limits, take, options.stop);
}

void keep_reading(book::Book& book, const book::Photo& photo, const PhotoReading& reading) {
    book.together([&] {
        book::save_photo_facts(book, photo.number, reading.facts);
        book::save_sightings(book, photo.number, reading.sightings);
    });
    if (!reading.poster.empty()) {
        write_poster(book::poster_file(book, photo.number), reading.poster);
    }
}

}  // namespace stripbook::day
