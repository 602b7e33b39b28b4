// Dimensions measured from photos. Nothing is deleted: a later measuring supersedes an earlier one.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

struct DimensionRecord {
    int number = 0;    ///< in the table and on the overlay
    std::string name;  ///< "length", "hole diameter", ...
    double value = 0;
    double expanded = 0;  ///< U, k = 2
    std::string unit;     ///< "mm" or "mm2"
    std::vector<int> holes;
    std::string note;
    std::string hint;  ///< nearest standard sizes; a hint, never an identification
    std::vector<std::pair<std::string, double>> budget;  ///< standard uncertainties by name
};

struct Measurement {
    explicit Measurement(number::TagNumber t) : tag(std::move(t)) {}
    std::int64_t id = 0;
    PhotoNumber photo;
    number::TagNumber tag;
    std::string at;  ///< UTC, RFC 3339
    std::string who;
    int version = 0;  ///< of the measuring station
    bool by_hand = false;
    std::string basis;   ///< what it was computed from: the same basis gives the same values
    std::string marker;  ///< kind of the scale marker
    std::string sheet;   ///< which sheet, in words
    std::string lens;    ///< which profile, in words
    std::optional<double> face_height_mm;
    std::string refusal;  ///< why there are no dimensions; empty when there are
    std::vector<std::string> notes;
    std::vector<DimensionRecord> dimensions;
};

/// Keeps a measurement; one that was computed supersedes the photo's earlier computed ones of that part. The
/// part's history says so. Returns its id.
std::int64_t save_measurement(Book& book, const Measurement& measurement);

/// Those that hold, by photo, then id.
std::vector<Measurement> measurements_of(const Book& book, const number::TagNumber& tag);
std::vector<Measurement> measurements_in(const Book& book, PhotoNumber photo);

}  // namespace stripbook::book
