#include "book/sightings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "book/paths.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* select_sightings =
    "SELECT photo, kind, text, confirmed, how, doubt, by_qr, fiducials, x0, y0, x1, y1, x2, y2, x3, y3, "
    "suggestions "
    "FROM sighting ";

Sighting sighting_of_row(Query& row) {
    Sighting s;
    s.kind = sighting_kind_from_stored(row.text(1));
    s.text = row.text(2);
    s.confirmed = row.yes(3);
    s.how = row.text(4);
    s.doubt = row.text(5);
    s.by_qr = row.yes(6);
    s.fiducials = row.small(7);
    constexpr int first_corner = 8;
    for (int i = 0; i < 4; ++i) {
        const int column = first_corner + 2 * i;
        s.corners_px[static_cast<std::size_t>(i)] = {row.real(column), row.real(column + 1)};
    }
    s.suggestions = list_from_stored(row.text(16));
    return s;
}

void check_corners(PhotoNumber photo, const Sighting& sighting) {
    const bool finite =
        std::all_of(sighting.corners_px.begin(), sighting.corners_px.end(),
                    [](const PointPx& p) { return std::isfinite(p.x) && std::isfinite(p.y); });
    if (!finite) {
        throw BookError(
            fmt::format("{}: a sighting's corner is not a number: a fault of the program; its sightings "
                        "were not kept",
                        photo.text()));
    }
}

// What a code in a photo says is a stranger's text.
std::vector<std::string> printable(std::vector<std::string> texts) {
    std::transform(texts.begin(), texts.end(), texts.begin(), printable_name);
    return texts;
}

void write_sighting(Query& insert, PhotoNumber photo, int place, const Sighting& s) {
    check_corners(photo, s);
    const auto& c = s.corners_px;
    insert
        .with(photo.value, place, stored_sighting_kind(s.kind), printable_name(s.text), s.confirmed,
              printable_name(s.how), printable_name(s.doubt), s.by_qr, s.fiducials, c[0].x, c[0].y, c[1].x,
              c[1].y, c[2].x, c[2].y, c[3].x, c[3].y, stored_list(printable(s.suggestions)))
        .run();
}

}  // namespace

void save_sightings(Book& book, PhotoNumber photo, const std::vector<Sighting>& sightings) {
    book.together([&] {
        Query(book, "DELETE FROM sighting WHERE photo = ?").with(photo.value).run();
        Query insert(book,
                     "INSERT INTO sighting VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
        int place = 0;
        for (const auto& sighting : sightings) {
            write_sighting(insert, photo, place++, sighting);
        }
    });
}

std::vector<Sighting> sightings_of(const Book& book, PhotoNumber photo) {
    Query query(book, std::string(select_sightings) + "WHERE photo = ? ORDER BY place");
    query.with(photo.value);
    std::vector<Sighting> sightings;
    while (query.next()) {
        sightings.push_back(sighting_of_row(query));
    }
    return sightings;
}

std::map<PhotoNumber, std::vector<Sighting>> all_sightings(const Book& book) {
    Query query(book, std::string(select_sightings) + "ORDER BY photo, place");
    std::map<PhotoNumber, std::vector<Sighting>> sightings;
    while (query.next()) {
        sightings[PhotoNumber{query.whole(0)}].push_back(sighting_of_row(query));
    }
    return sightings;
}

}  // namespace stripbook::book
