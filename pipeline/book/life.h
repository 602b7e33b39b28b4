// A part's whole life, or the book's last changes, as sentences in order of time.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

struct LifeEvent {
    double utc_s = 0;  ///< for the order; of a photo whose true time is not known its corrected time
    std::string when;  ///< "2026-03-20 09:00" workshop time of a photo, "2026-11-26 12:03 UTC" of an entry
    std::string who;   ///< empty: nobody is named (photos)
    std::string what;  ///< the record: "PET-00417-D", "p12", "setting"
    std::string sentence;             ///< without who: "stored at \"Rack C\", before that at \"Rack A\""
    std::vector<PhotoNumber> photos;  ///< that show it
    std::optional<Change> change;     ///< the entry of the history it tells; none of photos
};

/// Its photos by stage and day, and every change of its record and of what people said of its photos, oldest
/// first. Throws WrongUse when the book has neither such a part nor such a printed tag.
std::vector<LifeEvent> life_of(const Book& book, const number::TagNumber& tag);

/// The last `most` entries of the history, oldest first.
std::vector<LifeEvent> last_events(const Book& book, int most);

/// One entry of the history as a sentence without subject.
std::string sentence_of(const Change& change);

}  // namespace stripbook::book
