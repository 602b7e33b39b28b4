#include "book/measured_parts.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <optional>
#include <system_error>

#include "book/history.h"
#include "book/sql_access.h"
#include "book/stored_values.h"

namespace stripbook::book {

namespace {

constexpr const char* holding_links =
    "SELECT tag FROM person_word WHERE photo = ?1 AND belongs = 1 UNION SELECT tag FROM program_link WHERE "
    "photo = ?1 AND tag NOT IN (SELECT tag FROM person_word WHERE photo = ?1 AND belongs = 0)";

// The one part that a photo belongs to.
std::optional<number::TagNumber> only_part_of(const Book& book, PhotoNumber photo) {
    Query query(book, holding_links);
    query.with(photo.value);
    if (!query.next()) {
        return std::nullopt;
    }
    const auto tag = tag_from_stored(query.text(0));
    return query.next() ? std::nullopt : std::optional(tag);
}

std::vector<Measurement> measured_elsewhere(const Book& book) {
    Query query(
        book,
        "SELECT DISTINCT photo FROM measurement AS m WHERE superseded_by IS NULL AND NOT EXISTS "
        "(SELECT 1 FROM program_link AS l WHERE l.photo = m.photo AND l.tag = m.tag) AND NOT EXISTS "
        "(SELECT 1 FROM person_word AS w WHERE w.photo = m.photo AND w.tag = m.tag AND w.belongs = 1)");
    std::vector<Measurement> all;
    while (query.next()) {
        for (auto& measurement : measurements_in(book, {query.whole(0)})) {
            all.push_back(std::move(measurement));
        }
    }
    return all;
}

const DimensionRecord* same_dimension(const Measurement& in, const DimensionRecord& as) {
    const auto is_it = [&](const DimensionRecord& d) { return d.name == as.name; };
    const auto first = std::find_if(in.dimensions.begin(), in.dimensions.end(), is_it);
    const bool alone = std::count_if(in.dimensions.begin(), in.dimensions.end(), is_it) == 1;
    return alone ? &*first : nullptr;
}

}  // namespace

void measurements_follow_links(Book& book) {
    for (const auto& measurement : measured_elsewhere(book)) {
        const auto part = only_part_of(book, measurement.photo);
        if (!part || *part == measurement.tag) {
            continue;
        }
        Measurement moved = measurement;
        moved.tag = *part;
        Query(book, "UPDATE measurement SET tag = ? WHERE id = ?").with(part->text(), measurement.id).run();
        note_change(book, "stripbook", part->text(), "dimensions in " + measurement.photo.text(),
                    "those of " + measurement.tag.text(), "its own",
                    measurement.photo.text() + " belongs to it");
        std::error_code no_overlay;
        std::filesystem::rename(overlay_file(book, measurement), overlay_file(book, moved), no_overlay);
    }
}

std::vector<std::string> contradictions(const Book& book, const Measurement& measurement) {
    constexpr double factor = 3;
    std::vector<std::string> lines;
    for (const auto& earlier : measurements_of(book, measurement.tag)) {
        if (earlier.photo == measurement.photo || earlier.id >= measurement.id) {
            continue;
        }
        for (const auto& d : measurement.dimensions) {
            const auto* known = same_dimension(measurement, d) ? same_dimension(earlier, d) : nullptr;
            if (known == nullptr || d.unit != known->unit ||
                std::abs(d.value - known->value) <= factor * std::hypot(d.expanded, known->expanded)) {
                continue;
            }
            lines.push_back(
                fmt::format("{}: {} in {} is {:.1f} {} (U {:.1f}), but {:.1f} {} (U {:.1f}) in {}: does the "
                            "tag hang on the "
                            "right part?",
                            measurement.tag.text(), d.name, measurement.photo.text(), d.value, d.unit,
                            d.expanded, known->value, known->unit, known->expanded, earlier.photo.text()));
        }
    }
    return lines;
}

}  // namespace stripbook::book
