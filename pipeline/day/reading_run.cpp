#include "day/reading_run.h"

#include <chrono>
#include <exception>
#include <filesystem>
#include <fstream>
#include <utility>

#include "book/parts.h"
#include "book/photos.h"
#include "book/sightings.h"
#include "book/signatures.h"
#include "day/reader_version.h"
#include "errors.h"

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

ReadingRun::ReadingRun(const book::Book& book, const ReadOptions& options, WhenRead when_read)
    : book_(book),
      options_(options),
      when_read_(std::move(when_read)),
      expected_{book.code(), other_tags_in(book)},
      pool_(options.work, options.limits) {}

void ReadingRun::add(const book::Photo& photo) {
    photos_.push_back(photo);
    pool_.add(
        job_for((book_.folder() / photo.original.stored_path).string(), photo.original.kind, expected_));
}

void ReadingRun::go_on() {
    constexpr std::chrono::milliseconds no_wait{0};
    pool_.turn([this](std::size_t index, const photo::Outcome& outcome) { take(index, outcome); }, no_wait);
}

void ReadingRun::finish() {
    constexpr std::chrono::milliseconds between_questions{50};
    while (!pool_.all_told()) {
        if (options_.stop && options_.stop()) {
            throw Stopped("stopped; what was finished is kept, run the command again to go on");
        }
        pool_.turn(
            [this](std::size_t index, const photo::Outcome& outcome) {
                take(index, outcome);
                if (options_.progress) {
                    options_.progress({done_, photos_.size()});
                }
            },
            between_questions);
    }
}

void ReadingRun::take(std::size_t index, const photo::Outcome& outcome) {
    Answer answer = answer_in(outcome);
    answer.reading.facts.read_by = reader_version;
    when_read_(photos_[index], answer.reading, answer.came_back);
    ++done_;
}

void read_in_workers(const book::Book& book, const std::vector<book::Photo>& photos,
                     const ReadOptions& options, const WhenRead& when_read) {
    ReadingRun run(book, options, when_read);
    for (const auto& photo : photos) {
        run.add(photo);
    }
    run.finish();
}

void keep_reading(book::Book& book, const book::Photo& photo, const PhotoReading& reading) {
    book.together([&] {
        book::save_photo_facts(book, photo.number, reading.facts);
        book::save_sightings(book, photo.number, reading.sightings);
        book::save_signature(book, photo.number, reading.signature);
    });
    if (!reading.poster.empty()) {
        write_poster(book::poster_file(book, photo.number), reading.poster);
    }
}

}  // namespace stripbook::day
