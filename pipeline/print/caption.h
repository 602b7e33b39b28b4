// What stands beside or below a photo: its number, file, time, camera, stage, and why it belongs to the part.
#pragma once

#include <string>
#include <vector>

#include "book/part_file.h"
#include "print/printable_text.h"

namespace stripbook::print {

struct Caption {
    std::string number;              ///< p12
    std::vector<std::string> lines;  ///< not yet wrapped
};

Caption caption_of(const book::PartPhoto& photo, PrintableText& printable);

/// The name on the card without the folder that every card has.
std::string file_name_for_people(const std::string& name_on_card);

/// "2026-03-20 08:58:15" from "2026-03-20T08:58:15.83"; other text stays as it is.
std::string time_for_people(const std::string& time);
/// Seconds since 1970-01-01 in the same form.
std::string time_for_people(double seconds);

}  // namespace stripbook::print
