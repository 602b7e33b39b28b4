// What a dump did, file by file, once copying, reading and linking are done: the source of the ten lines and
// of --json.
#pragma once

#include <map>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"
#include "dump/take_in.h"

namespace stripbook::day {

struct FileRecord {
    dump::TakenFile file;
    std::optional<book::Photo>
        photo;  ///< empty for files that are no photos, and those that were not taken in
    std::vector<book::Sighting> sightings;
    std::vector<book::Link> links;
    std::optional<book::Unsettled> unsettled;
};

/// Whether the card may be wiped, and the sentence that says so or why not.
struct WipeVerdict {
    bool may_be_wiped = false;
    std::string sentence;
    bool may_be_no_card = false;  ///< it has files, but no photo or video among them
};

struct CardRecord {
    dump::CardResult result;
    std::vector<FileRecord> files;
    WipeVerdict verdict;
};

struct DayRecord {
    std::vector<CardRecord> cards;
    int photos = 0;  ///< photos and videos on these cards
    int linked_photos = 0;
    std::set<number::TagNumber> linked_parts;
    int unsettled_photos = 0;
    std::map<std::string, int> other_books;  ///< book code to number of tags seen on these cards
    /// Codes of other makers that no part wears, and the photos that show them: for a person to say whose.
    std::map<std::string, std::vector<book::PhotoNumber>> strange_codes;
};

DayRecord gather_day(const book::Book& book, const std::vector<dump::CardResult>& cards);

}  // namespace stripbook::day
