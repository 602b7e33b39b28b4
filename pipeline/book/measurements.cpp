#include "book/measurements.h"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "book/clock.h"
#include "book/history.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "errors.h"

namespace stripbook::book {

namespace {

using nlohmann::json;

constexpr const char* select_measurements =
    "SELECT id, photo, tag, at, who, version, by_hand, basis, marker, sheet, lens, face_height_mm, refusal, "
    "notes FROM measurement WHERE superseded_by IS NULL AND ";

json json_from_stored(const std::string& text) {
    auto value = json::parse(text, nullptr, false);
    if (!value.is_array()) {
        throw BookError("the book holds a dimension that cannot be read; run stripbook check");
    }
    return value;
}

std::vector<DimensionRecord> dimensions_of(const Book& book, std::int64_t measurement) {
    Query query(book,
                "SELECT number, name, value, expanded, unit, holes, note, hint, budget FROM dimension WHERE "
                "measurement = ? ORDER BY number");
    query.with(measurement);
    std::vector<DimensionRecord> dimensions;
    while (query.next()) {
        DimensionRecord d{query.small(0), query.text(1), query.real(2),
                          query.real(3),  query.text(4), {},
                          query.text(6),  query.text(7), {}};
        for (const auto& hole : json_from_stored(query.text(5))) {
            d.holes.push_back(hole.is_number_integer() ? hole.get<int>() : 0);
        }
        for (const auto& component : json_from_stored(query.text(8))) {
            d.budget.emplace_back(component.value("name", ""), component.value("u", 0.0));
        }
        dimensions.push_back(std::move(d));
    }
    return dimensions;
}

Measurement measurement_of_row(const Book& book, Query& row) {
    Measurement m(tag_from_stored(row.text(2)));
    m.id = row.whole(0);
    m.photo = {row.whole(1)};
    m.at = row.text(3);
    m.who = row.text(4);
    m.version = row.small(5);
    m.by_hand = row.yes(6);
    m.basis = row.text(7);
    m.marker = row.text(8);
    m.sheet = row.text(9);
    m.lens = row.text(10);
    m.face_height_mm = row.maybe_real(11);
    m.refusal = row.text(12);
    m.notes = list_from_stored(row.text(13));
    m.dimensions = dimensions_of(book, m.id);
    return m;
}

void write_dimension(Book& book, std::int64_t measurement, const DimensionRecord& d) {
    json budget = json::array();
    for (const auto& [name, u] : d.budget) {
        budget.push_back({{"name", name}, {"u", u}});
    }
    Query(book, "INSERT INTO dimension VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
        .with(measurement, d.number, d.name, d.value, d.expanded, d.unit, json(d.holes).dump(), d.note,
              d.hint, budget.dump())
        .run();
}

// One line for the history.
std::string words_of(const Measurement& m) {
    if (!m.refusal.empty()) {
        return "not measured: " + m.refusal;
    }
    std::string words;
    for (const auto& d : m.dimensions) {
        words += fmt::format("{}{} {:.2f} {} (U {:.2f})", words.empty() ? "" : "; ", d.name, d.value, d.unit,
                             d.expanded);
    }
    return words;
}

std::vector<Measurement> measurements(const Book& book, Query& query) {
    std::vector<Measurement> list;
    while (query.next()) {
        list.push_back(measurement_of_row(book, query));
    }
    return list;
}

}  // namespace

std::int64_t save_measurement(Book& book, const Measurement& m) {
    std::int64_t id = 0;
    book.together([&] {
        std::string before;
        for (const auto& earlier : measurements_in(book, m.photo)) {
            if (!m.by_hand && !earlier.by_hand && earlier.tag == m.tag) {
                before = words_of(earlier);
            }
        }
        Query(book,
              "INSERT INTO measurement (photo, tag, at, who, version, by_hand, basis, marker, sheet, lens, "
              "face_height_mm, refusal, notes) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
            .with(m.photo.value, m.tag.text(), now_utc(), m.who, m.version, m.by_hand, m.basis, m.marker,
                  m.sheet, m.lens, m.face_height_mm, m.refusal, stored_list(m.notes))
            .run();
        id = last_row_number(book);
        for (const auto& dimension : m.dimensions) {
            write_dimension(book, id, dimension);
        }
        if (!m.by_hand) {
            Query(book,
                  "UPDATE measurement SET superseded_by = ? WHERE photo = ? AND tag = ? AND by_hand = 0 AND "
                  "superseded_by IS NULL AND id <> ?")
                .with(id, m.photo.value, m.tag.text(), id)
                .run();
        }
        const std::string after = words_of(m);
        if (before != after) {
            note_change(book, m.who, m.tag.text(), "dimensions in " + m.photo.text(), before, after,
                        "measure");
        }
    });
    return id;
}

std::vector<Measurement> measurements_of(const Book& book, const number::TagNumber& tag) {
    Query query(book, std::string(select_measurements) + "tag = ? ORDER BY photo, id");
    query.with(tag.text());
    return measurements(book, query);
}

std::vector<Measurement> measurements_in(const Book& book, PhotoNumber photo) {
    Query query(book, std::string(select_measurements) + "photo = ? ORDER BY id");
    query.with(photo.value);
    return measurements(book, query);
}

}  // namespace stripbook::book
