#include "day/day_record.h"

#include <fmt/format.h>

#include <algorithm>

#include "book/links.h"
#include "book/photos.h"
#include "book/sightings.h"
#include "day/other_tags.h"
#include "number/marker_layout.h"

namespace stripbook::day {

namespace {

// Links and open questions of the whole book, by photo: read once for all cards.
struct ByPhoto {
    explicit ByPhoto(const book::Book& book) : sightings(book::all_sightings(book)) {
        for (const auto& link : book::all_links(book)) {
            links[link.photo].push_back(link);
        }
        for (const auto& open : book::all_unsettled(book)) {
            unsettled.emplace(open.photo, open);
        }
        for (auto& photo : book::all_photos(book)) {
            const book::OriginalId original = photo.original.id;
            photos.emplace(original, std::move(photo));
        }
    }
    std::map<book::PhotoNumber, std::vector<book::Sighting>> sightings;
    std::map<book::PhotoNumber, std::vector<book::Link>> links;
    std::map<book::PhotoNumber, book::Unsettled> unsettled;
    std::map<book::OriginalId, book::Photo> photos;
};

FileRecord record_of(const dump::TakenFile& file, const ByPhoto& known) {
    FileRecord record{file, {}, {}, {}, {}};
    const auto photo = file.original ? known.photos.find(*file.original) : known.photos.end();
    if (photo == known.photos.end()) {
        return record;
    }
    record.photo = photo->second;
    const book::PhotoNumber number = photo->second.number;
    if (const auto it = known.sightings.find(number); it != known.sightings.end()) {
        record.sightings = it->second;
    }
    if (const auto it = known.links.find(number); it != known.links.end()) {
        record.links = it->second;
    }
    if (const auto it = known.unsettled.find(number); it != known.unsettled.end()) {
        record.unsettled = it->second;
    }
    return record;
}

bool undecoded(const FileRecord& record) {
    return record.photo && record.photo->read_state != book::ReadState::read;
}

// What could not be taken in may be one.
bool may_be_a_picture(const FileRecord& record) {
    return record.photo || !record.file.original;
}

bool has_files_but_no_picture(const CardRecord& card) {
    return !card.files.empty() && std::none_of(card.files.begin(), card.files.end(), may_be_a_picture);
}

std::string files(std::ptrdiff_t count) {
    return count == 1 ? "1 file" : fmt::format("{} files", count);
}

WipeVerdict verdict_on(const CardRecord& card) {
    const auto failed = std::count_if(card.files.begin(), card.files.end(),
                                      [](const FileRecord& r) { return !r.file.original.has_value(); });
    const auto damaged = std::count_if(card.files.begin(), card.files.end(), undecoded);
    if (failed > 0) {
        return {false, fmt::format("do NOT wipe the card: {} could not be taken in", files(failed))};
    }
    if (!card.result.every_file_proved) {
        return {false, "do NOT wipe the card: something on it could not be read"};
    }
    if (damaged > 0) {
        return {
            false,
            fmt::format(
                "do NOT wipe the card: {} copied, but not readable as a picture or video; look at the card "
                "in the camera first",
                files(damaged))};
    }
    if (card.files.empty()) {
        return {false, "there was nothing on the card to copy"};
    }
    if (has_files_but_no_picture(card)) {
        return {false, "do NOT wipe it: there is no photo or video in it, so it may not be the card", true};
    }
    if (!card.result.every_file_proved_twice) {
        return {false, "copied once; make a second copy before wiping"};
    }
    if (card.result.second_on_same_disk) {
        return {false,
                "copied twice, but onto the same disk; make a second copy on another disk before wiping"};
    }
    return {
        true,
        "the card may be wiped: every file is in the book and in the second copy, read back and compared"};
}

// A scale marker's own code says which sheet it is: no part wears it.
bool is_strange(const book::Sighting& sighting, const std::map<std::string, number::TagNumber>& other_tags) {
    return sighting.kind == book::SightingKind::other_code && other_tags.count(sighting.text) == 0 &&
           !number::marker_sheet_from_text(sighting.text);
}

void count_strange_codes(DayRecord& day, const FileRecord& record,
                         const std::map<std::string, number::TagNumber>& other_tags) {
    for (const auto& sighting : record.sightings) {
        if (record.photo && is_strange(sighting, other_tags)) {
            auto& photos = day.strange_codes[sighting.text];
            if (photos.empty() || photos.back() != record.photo->number) {
                photos.push_back(record.photo->number);
            }
        }
    }
}

void count(DayRecord& day, const FileRecord& record, const std::string& here) {
    if (!record.photo) {
        return;
    }
    ++day.photos;
    day.linked_photos += record.links.empty() ? 0 : 1;
    day.unsettled_photos += record.unsettled ? 1 : 0;
    for (const auto& link : record.links) {
        day.linked_parts.insert(link.tag);
    }
    for (const auto& s : record.sightings) {
        const auto tag =
            s.kind == book::SightingKind::tag ? number::TagNumber::from_exact(s.text) : std::nullopt;
        if (tag && tag->book().text() != here) {
            ++day.other_books[tag->book().text()];
        }
    }
}

}  // namespace

DayRecord gather_day(const book::Book& book, const std::vector<dump::CardResult>& cards) {
    const ByPhoto known(book);
    const auto other_tags = parts_by_other_tag(book);
    DayRecord day;
    for (const auto& result : cards) {
        CardRecord card{result, {}, {}};
        for (const auto& file : result.files) {
            card.files.push_back(record_of(file, known));
            count(day, card.files.back(), book.code().text());
            count_strange_codes(day, card.files.back(), other_tags);
        }
        if (has_files_but_no_picture(card)) {
            card.result.remarks.emplace_back("there is no photo or video in it: is this the card?");
        }
        card.verdict = verdict_on(card);
        day.cards.push_back(std::move(card));
    }
    return day;
}

}  // namespace stripbook::day
