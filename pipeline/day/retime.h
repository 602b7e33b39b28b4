// When the photos were really taken, worked out anew from all that is known of the cameras' clocks.
#pragma once

#include <cstddef>
#include <map>
#include <string>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::day {

/// Gives every photo of the book its true time (link/clocks.h) and writes what differs; before linking.
/// Without a "time zone" in the settings the workshop's is the UTC offset that most photos say, else UTC.
/// Returns how many photos have another time than before. Throws OutsideError when this computer does not
/// know the zone.
std::size_t retime(book::Book& book);

/// What the capture order of each camera's photos rests on, in words.
std::map<book::CameraId, std::string> capture_orders(const book::Book& book);

}  // namespace stripbook::day
