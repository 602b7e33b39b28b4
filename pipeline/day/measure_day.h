// Measures the parts that lie beside scale markers, in worker processes, and keeps the dimensions in the
// book.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/measurements.h"
#include "day/measure_job.h"
#include "day/read_day.h"

namespace stripbook::day {

/// Raised when measuring gives other values for the same photo.
inline constexpr int measuring_version = 19;

struct MeasureOptions {
    photo::WorkerLimits limits;
    std::function<void(const ReadProgress&)> progress;
    std::function<bool()> stop;
    bool again = false;                    ///< also what was measured on the same basis before
    bool unmeasured_too = false;           ///< sheets that nobody measured, with u = 2 %
    std::optional<double> face_height_mm;  ///< instead of the part's own
    std::string who = "stripbook";
};

/// Which photos: one, or those of one part; neither: all.
struct MeasureWhich {
    std::optional<book::PhotoNumber> photo{};
    std::optional<number::TagNumber> part{};
};

struct MeasureOutcome {
    std::vector<book::Measurement> measured;  ///< new ones, also refusals
    int as_they_were = 0;                     ///< on the same basis as before
    /// New dimensions that contradict recorded ones (book/measured_parts.h), one line each: a tag may hang on
    /// the wrong part.
    std::vector<std::string> contradictions;
};

/// Every photo of these with a scale marker that is linked to exactly one part.
/// Works the lens profiles out anew first. Each measurement is kept as soon as it is known. Throws Stopped.
MeasureOutcome measure_parts(book::Book& book, const MeasureWhich& which, const MeasureOptions& options);

/// Between picked points of one photo. WrongUse when the photo has no scale marker or is linked to no part or
/// several.
book::Measurement measure_picked(book::Book& book, book::PhotoNumber photo, const PickedPoints& picked,
                                 const MeasureOptions& options);

}  // namespace stripbook::day
