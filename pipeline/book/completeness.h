// What the machine should have, against what is tagged and present.
//
// Expected: lines of the maker's list (or a person's), and the quantities that part records give themselves.
// A part fills a line when it has the line's name and lies in the line's assembly or within it. Present: the
// quantity a person gave; else one, when the part has been seen (a photo, or a storage place).
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// One line of the parts list: what should be there.
struct Line {
    std::int64_t number = 0;
    std::string name;
    std::string maker_number;  ///< part or drawing number; may be empty
    std::string assembly;      ///< may be empty: the whole machine
    int quantity_expected = 0;
    std::string source;  ///< maker's list, or who says so
};

/// Keeps a line; one of the same name and assembly is changed. Quantity 0 takes it back. Throws WrongUse.
void save_line(Book& book, const Line& line, const std::string& who);
std::vector<Line> all_lines(const Book& book);

/// Small parts bagged under a part's tag.
struct BaggedFasteners {
    std::string size;  ///< "M12 x 40 bolt"
    int count = 0;
};

/// Count 0 takes a size out of the bag. Throws WrongUse.
void set_fasteners(Book& book, const number::TagNumber& tag, const BaggedFasteners& fasteners,
                   const std::string& who);
std::vector<BaggedFasteners> fasteners_of(const Book& book, const number::TagNumber& tag);

/// One kind of part, rolled up.
struct Completeness {
    std::string name;
    std::string assembly;  ///< in which it is counted; empty: the whole machine
    int expected = 0;
    int present = 0;
    int tagged = 0;                     ///< part records
    int not_seen_yet = 0;               ///< of them, without photo, storage place or a quantity present
    std::string each;                   ///< "axle": what it is shared out among; empty: cannot be told
    int to_each = 0;                    ///< expected over the number of those
    std::vector<std::string> short_in;  ///< "Running gear / Axle 3: 1 of 2"
    std::vector<number::TagNumber> tags;
};

/// Everything of which a quantity is expected, by assembly, then name.
std::vector<Completeness> completeness(const Book& book);

/// "8 axlebox springs expected, two to an axle: 7 present".
std::string words_of(const Completeness& completeness);

}  // namespace stripbook::book
