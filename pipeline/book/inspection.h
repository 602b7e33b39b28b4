// What was seen on a part and what was measured of it with an instrument. Nothing is deleted: a correction
// keeps what it corrects.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// The kinds of finding, in the book's fixed words.
inline constexpr std::array<const char*, 8> finding_kinds{
    "wear", "crack", "corrosion", "distortion", "missing piece", "seized", "thread damage", "earlier repair"};

/// What every entry of an inspection has.
struct InspectionEntry {
    std::int64_t number = 0;  ///< running in the book; given when the entry is kept
    std::string by;           ///< who saw or measured it
    std::string on;           ///< the day, 2026-11-25
    std::string at{};         ///< when it was entered, UTC, RFC 3339
    std::string who{};        ///< who entered it
    std::optional<std::int64_t> corrects{};
    std::optional<std::int64_t> corrected_by{};  ///< by this later entry: then it stands no more
    std::string why_corrected{};
    [[nodiscard]] bool stands() const { return !corrected_by; }
};

struct Finding {
    InspectionEntry entry;
    std::string kind;     ///< one of finding_kinds
    std::string where;    ///< on the part
    std::string how_bad;  ///< in words
    std::vector<PhotoNumber> photos;
};

/// A dimension a person measured with an instrument.
struct GaugeReading {
    InspectionEntry entry;
    std::string feature;  ///< "bore"
    std::string spot;     ///< where on the feature: "top", "front end"; may be empty
    double value_mm = 0;
    std::string typed;           ///< with its unit: "3 5/16 in"
    std::optional<double> u_mm;  ///< standard uncertainty of the instrument; null: not told
    std::string instrument;
};

/// What readings of a feature are judged against.
struct GaugeLimit {
    InspectionEntry entry;
    std::string feature;
    bool of_spread = false;  ///< limits the largest reading less the smallest: taper, out-of-round
    std::optional<double> lower_mm, upper_mm;
    std::string lower_typed, upper_typed;
    std::string source;  ///< drawing or manual
};

/// All entries of one part, by number, also those that stand no more.
struct Inspection {
    std::vector<Finding> findings;
    std::vector<GaugeReading> readings;
    std::vector<GaugeLimit> limits;
    [[nodiscard]] bool empty() const { return findings.empty() && readings.empty() && limits.empty(); }
};

// Each keeps one entry and gives its number. `corrects` in the entry names what it corrects: an entry of the
// same part and kind that still stands. Throws WrongUse when something is missing or cannot be.
std::int64_t add_finding(Book& book, const number::TagNumber& tag, const Finding& finding,
                         const std::string& who);
std::int64_t add_reading(Book& book, const number::TagNumber& tag, const GaugeReading& reading,
                         const std::string& who);
std::int64_t add_limit(Book& book, const number::TagNumber& tag, const GaugeLimit& limit,
                       const std::string& who);

/// The entry was a mistake and nothing takes its place. Throws WrongUse as above, or without a reason.
void take_back_entry(Book& book, const number::TagNumber& tag, std::int64_t number, const std::string& why,
                     const std::string& who);

Inspection inspection_of(const Book& book, const number::TagNumber& tag);

/// The uncertainty last given for this instrument, in any part.
std::optional<double> last_u_of_instrument(const Book& book, const std::string& instrument);

// One line each, as the history and the lists say it.
std::string words_of(const Finding& finding);       ///< "crack, lower lug: through, 12 mm (p12, p13)"
std::string words_of(const GaugeReading& reading);  ///< "bore, top: 45.02 mm, bore gauge, u 0.01 mm"
std::string words_of(const GaugeLimit& limit);      ///< "bore at most 45.10 mm (works drawing 123)"
/// "at least 1 in", "45.00 mm to 45.10 mm".
std::string bounds_of(const GaugeLimit& limit);

}  // namespace stripbook::book
