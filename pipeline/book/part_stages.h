// A person's word on a part as a whole: from a day on it is at a stage.
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

struct PartStage {
    std::string from_date;  ///< "2026-04-02"
    std::string stage;      ///< one of stage_words
    std::string who;
};

/// By date.
std::vector<PartStage> part_stages(const Book& book, const number::TagNumber& tag);

/// An empty stage takes back what was said for that day. Throws WrongUse when the part is unknown, the date
/// is none, or the word not in stage_words.
void set_part_stage(Book& book, const number::TagNumber& tag, const std::string& from_date,
                    const std::string& stage, const std::string& who);

}  // namespace stripbook::book
