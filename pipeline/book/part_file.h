// Everything the book holds about one part, gathered for those who show it (find, print).
#pragma once

#include <string>
#include <vector>

#include "book/book.h"
#include "book/completeness.h"
#include "book/hazards.h"
#include "book/inspection.h"
#include "book/measurements.h"
#include "book/part_path.h"
#include "book/records.h"

namespace stripbook::book {

struct PartPhoto {
    Photo photo;
    Link link;
    bool on_bench = false;         ///< a scale marker is in the picture
    std::string stage;             ///< one of stage_words where it is known (stages.h), else empty
    bool stage_by_person = false;  ///< a person said so, of the photo or of the part
    std::string stage_why{};       ///< how the stage is known, or why it is not; may be empty
};

struct PartFile {
    explicit PartFile(Part p) : part(std::move(p)) {}
    Part part;
    std::vector<PartPhoto> photos;          ///< in order of corrected time, then photo number
    std::vector<Measurement> measurements;  ///< that hold, by photo
    std::vector<Hazard> hazards;
    Inspection inspection;
    PathRecord path;
    std::vector<Work> works;
    std::vector<BaggedFasteners> fasteners;
    std::vector<number::TagNumber> taken_from_it;  ///< parts whose parent it is
    std::vector<Change> history;                   ///< of the part record, oldest first
};

/// Throws WrongUse when the book has no such part.
PartFile gather_part(const Book& book, const number::TagNumber& tag);

/// The stage of the part's latest photo that has one; empty where none has.
std::string latest_stage(const PartFile& file);

}  // namespace stripbook::book
