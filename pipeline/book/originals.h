// Stored files, the dumps they came with, and where each was seen.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// A dump of one card is begun, so that its folder has a number. `card` is the card's folder as given.
DumpId begin_dump(Book& book, const std::string& card, const std::string& who);
void end_dump(Book& book, DumpId dump, const std::string& outcome);

std::optional<Original> find_original(const Book& book, const std::string& sha256);
std::vector<Original> all_originals(const Book& book);

/// A file seen on a card. `name_on_card` is raw bytes as the card has them, relative to the card's folder.
struct CardFile {
    std::string name_on_card;
    std::uint64_t bytes = 0;
    double modified_seconds = 0;  ///< the card's file time, since 1970 UTC
    int dcf_directory = 0;        ///< 100..999, or 0 (CIPA DC-009)
    int dcf_counter = 0;          ///< 1..9999, or 0
};

/// Takes a proved copy into the book: the original, where it was seen, and a photo number when it is a photo
/// or video. Until its facts are saved, a photo's time is the card's file time. Throws BookError on a second
/// original with the same bytes, and for a `stored_path` that is in use or not a relative path in UTF-8.
Original add_original(Book& book, DumpId dump, const CardFile& file, const std::string& sha256, FileKind kind,
                      const std::string& stored_path);

/// Whether `stored_path` is already some original's. Capitals are not told apart: an exFAT disk does not
/// either.
bool stored_path_in_use(const Book& book, const std::string& stored_path);

/// Bytes that the book has already were seen again on a card.
void add_seen_again(Book& book, DumpId dump, const CardFile& file, OriginalId original);

/// A proved copy of the original lies in another folder too.
void add_second_copy(Book& book, OriginalId original, const std::string& second_folder);
bool has_second_copy(const Book& book, OriginalId original, const std::string& second_folder);
/// How many originals have no second copy anywhere.
std::int64_t originals_without_second_copy(const Book& book);

/// The book against itself: SQLite's integrity and foreign-key checks, dangling references. One line a fault.
std::vector<std::string> faults_inside(const Book& book);

}  // namespace stripbook::book
