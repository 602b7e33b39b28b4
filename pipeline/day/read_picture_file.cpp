#include "day/read_picture_file.h"

#include <fmt/format.h>

#include <algorithm>
#include <exception>
#include <filesystem>

#include "book/parts.h"
#include "book/paths.h"
#include "day/other_tags.h"
#include "day/read_photo.h"
#include "errors.h"
#include "photo/worker_pool.h"

namespace stripbook::day {

namespace {

PhotoReading reading_of(const std::string& path, const book::Book& book,
                        const std::map<std::string, number::TagNumber>& other_tags) {
    Expected expected{book.code()};
    for (const auto& [text, tag] : other_tags) {
        expected.other_tags.push_back(text);
    }
    const std::string name = book::printable_name(path);
    PhotoReading reading;
    photo::run_in_workers(answer_to, {job_for(path, book::FileKind::photo, expected)}, {},
                          [&](std::size_t /*index*/, const photo::Outcome& outcome) {
                              if (outcome.end != photo::Outcome::End::done) {
                                  throw BadFile(fmt::format("{}: {}", name, outcome.note));
                              }
                              try {
                                  reading = reading_from_answer(outcome.bytes);
                              } catch (const std::exception&) {
                                  throw BadFile(name + ": the reading came back garbled");
                              }
                          });
    if (reading.facts.read_state != book::ReadState::read) {
        throw BadFile(fmt::format("{}: {}", name, reading.facts.read_note));
    }
    return reading;
}

void add_once(std::vector<number::TagNumber>& tags, const number::TagNumber& tag) {
    if (std::find(tags.begin(), tags.end(), tag) == tags.end()) {
        tags.push_back(tag);
    }
}

}  // namespace

TagsSeen tags_in_picture_file(const std::string& path, const book::Book& book) {
    std::error_code ignored;
    if (!std::filesystem::is_regular_file(path, ignored)) {
        throw WrongUse(fmt::format("there is no file {}", book::printable_name(path)));
    }
    const auto other_tags = parts_by_other_tag(book);
    const PhotoReading reading = reading_of(path, book, other_tags);
    TagsSeen seen;
    for (const auto& sighting : with_other_tags(reading.sightings, other_tags)) {
        if (sighting.kind != book::SightingKind::tag) {
            continue;
        }
        const auto tag = number::TagNumber::from_exact(sighting.text);
        if (!tag || !sighting.confirmed) {
            seen.words = sighting.suggestions.empty()
                             ? "a tag was not read for sure: " + sighting.doubt
                             : fmt::format("a tag was not read for sure; it may be {}",
                                           fmt::join(sighting.suggestions, " or "));
        } else if (tag->book() != book.code()) {
            seen.words = fmt::format("the picture shows {}, a tag of another book", tag->text());
        } else if (!sighting.by_qr && !book::find_part(book, *tag)) {
            seen.words =
                fmt::format("{} was read from fiducials alone, and the book has no such part", tag->text());
        } else {
            add_once(seen.read, *tag);
        }
    }
    return seen;
}

}  // namespace stripbook::day
