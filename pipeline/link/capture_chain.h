// The photos of one camera by their file counters, and the jumps of its clock that this shows.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <vector>

namespace stripbook::link {

/// What ordering needs of a photo.
struct CaptureReading {
    std::size_t index = 0;  ///< in the caller's list
    double time_s = 0;      ///< by the camera's clock, its UTC offset taken off
    bool timed = false;     ///< by EXIF; else `time_s` is a file time
    std::int64_t dump = 0;
    int directory = 0;
    int counter = 0;  ///< 0: none
    double file_time_s = 0;
    std::string name;
    std::int64_t number = 0;
    bool by_shift = false;  ///< `time_s` is the file time as the camera's clock would have said it
};

/// Within three days after the first of January, when a clock without power begins (common practice, no
/// source).
bool is_new_year(double time_s);

/// Orders photos whose times are equal: directory, counter, file time, name (2 before 10), number.
bool comes_first_at_one_time(const CaptureReading& a, const CaptureReading& b);

/// Which photos come after how many jumps.
struct CaptureChain {
    std::vector<std::size_t> places;  ///< of the readings that have a counter, in the order of the counters
    std::vector<int> piece;  ///< by reading: how many jumps came before it; -1: the counter does not say
    int pieces = 1;
};

/// `readings` in a fixed order (by number).
CaptureChain capture_chain(const std::vector<CaptureReading>& readings);

}  // namespace stripbook::link
