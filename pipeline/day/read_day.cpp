#include "day/read_day.h"

#include <fmt/format.h>

#include <exception>
#include <map>

#include "book/links.h"
#include "book/parts.h"
#include "book/photos.h"
#include "book/print_runs.h"
#include "book/settings.h"
#include "book/sightings.h"
#include "day/read_photo.h"
#include "link/assign.h"

namespace stripbook::day {

namespace {

constexpr double seconds_per_minute = 60;
constexpr const char* program = "stripbook";  // "who" of what the program does by itself

PhotoReading reading_of(const photo::Outcome& outcome) {
    if (outcome.end == photo::Outcome::End::done) {
        try {
            return reading_from_answer(outcome.bytes);
        } catch (const std::exception&) {
            // A worker whose memory was trampled by a damaged file can answer nonsense.
            PhotoReading reading;
            reading.facts.read_state = book::ReadState::damaged;
            reading.facts.read_note = "the reading came back garbled";
            return reading;
        }
    }
    PhotoReading reading;
    reading.facts.read_state = book::ReadState::damaged;
    reading.facts.read_note = "could not be read: " + outcome.note;
    return reading;
}

link::Rules rules_of(const book::Book& book, const std::vector<link::PhotoSightings>& photos) {
    link::Rules rules;
    rules.link_time_s = std::stod(book::setting(book, "link time")) * seconds_per_minute;
    rules.known_to_fiducials = book::printed_numbers(book);
    bool has_list = !rules.known_to_fiducials.empty();
    for (const auto& part : book::all_parts(book)) {
        rules.known.insert(part.tag);
        if (part.listed) {
            has_list = true;
            rules.known_to_fiducials.insert(part.tag);
        }
    }
    if (!has_list) {
        return rules;
    }
    for (const auto& p : photos) {
        rules.known_to_fiducials.insert(p.linked_by_person.begin(), p.linked_by_person.end());
        for (const auto& s : p.sightings) {
            const auto tag = s.confirmed && s.by_qr ? number::TagNumber::from_exact(s.text) : std::nullopt;
            if (tag) {
                rules.known_to_fiducials.insert(*tag);
            }
        }
    }
    return rules;
}

std::vector<link::PhotoSightings> photos_with_sightings(const book::Book& book) {
    std::map<book::PhotoNumber, std::vector<number::TagNumber>> linked;
    std::map<book::PhotoNumber, std::vector<number::TagNumber>> refused;
    for (const auto& link : book::all_links(book)) {
        if (link.by_person) {
            linked[link.photo].push_back(link.tag);
        }
    }
    for (const auto& refusal : book::all_refusals(book)) {
        refused[refusal.photo].push_back(refusal.tag);
    }
    auto sightings = book::all_sightings(book);
    std::vector<link::PhotoSightings> photos;
    for (auto& photo : book::all_photos(book)) {
        const book::PhotoNumber number = photo.number;
        photos.push_back({std::move(photo), sightings[number], linked[number], refused[number]});
    }
    return photos;
}

}  // namespace

std::size_t read_unread_photos(book::Book& book, const ReadOptions& options) {
    const auto unread = book::photos_to_read(book);
    std::vector<std::string> jobs;
    jobs.reserve(unread.size());
    for (const auto& photo : unread) {
        jobs.push_back(job_for((book.folder() / photo.original.stored_path).string(), book.code()));
    }
    ReadProgress progress{0, jobs.size()};
    const auto keep = [&](std::size_t index, const photo::Outcome& outcome) {
        const PhotoReading reading = reading_of(outcome);
        book.together([&] {
            book::save_photo_facts(book, unread[index].number, reading.facts);
            book::save_sightings(book, unread[index].number, reading.sightings);
        });
        ++progress.done;
        if (options.progress) {
            options.progress(progress);
        }
    };
    photo::run_in_workers(answer_to, jobs, options.limits, keep, options.stop);
    return unread.size();
}

LinkOutcome link_all(book::Book& book) {
    const auto photos = photos_with_sightings(book);
    const link::Assignment found = link::assign(photos, book.code(), rules_of(book, photos));
    book.together([&] {
        for (std::size_t i = 0; i < found.new_tags.size(); ++i) {
            book::add_seen_part(book, found.new_tags[i], found.seen_first_in[i], program);
        }
        book::replace_program_links(book, found.links, found.unsettled);
    });
    return {found.new_tags, found.other_book_tags};
}

}  // namespace stripbook::day
