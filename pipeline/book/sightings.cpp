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
    "suggestions, place "
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

bool is_finite(const std::array<PointPx, 4>& corners) {
    return std::all_of(corners.begin(), corners.end(),
                       [](const PointPx& p) { return std::isfinite(p.x) && std::isfinite(p.y); });
}

void check_corners(PhotoNumber photo, const Sighting& sighting) {
    const bool finite = is_finite(sighting.corners_px) &&
                        std::all_of(sighting.marker_corners.begin(), sighting.marker_corners.end(),
                                    [](const MarkerCorners& m) { return is_finite(m.corners_px); });
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

void write_marker_corners(Query& insert, PhotoNumber photo, int place, const Sighting& s) {
    for (const auto& [identity, c] : s.marker_corners) {
        insert
            .with(photo.value, place, identity, c[0].x, c[0].y, c[1].x, c[1].y, c[2].x, c[2].y, c[3].x,
                  c[3].y)
            .run();
    }
}

// By place in the photo.
std::map<int, std::vector<MarkerCorners>> marker_corners_of(const Book& book, PhotoNumber photo) {
    Query query(book,
                "SELECT place, identity, x0, y0, x1, y1, x2, y2, x3, y3 FROM sighting_corner WHERE photo = ? "
                "ORDER BY place, identity");
    query.with(photo.value);
    std::map<int, std::vector<MarkerCorners>> corners;
    while (query.next()) {
        MarkerCorners one{query.small(1), {}};
        for (int i = 0; i < 4; ++i) {
            one.corners_px[static_cast<std::size_t>(i)] = {query.real(2 + 2 * i), query.real(3 + 2 * i)};
        }
        corners[query.small(0)].push_back(one);
    }
    return corners;
}

}  // namespace

void save_sightings(Book& book, PhotoNumber photo, const std::vector<Sighting>& sightings) {
    book.together([&] {
        Query(book, "DELETE FROM sighting WHERE photo = ?").with(photo.value).run();
        Query insert(book,
                     "INSERT INTO sighting VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
        Query insert_corners(book, "INSERT INTO sighting_corner VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)");
        int place = 0;
        for (const auto& sighting : sightings) {
            write_sighting(insert, photo, place, sighting);
            write_marker_corners(insert_corners, photo, place, sighting);
            ++place;
        }
    });
}

std::vector<Sighting> sightings_of(const Book& book, PhotoNumber photo) {
    Query query(book, std::string(select_sightings) + "WHERE photo = ? ORDER BY place");
    query.with(photo.value);
    std::vector<Sighting> sightings;
    auto corners = marker_corners_of(book, photo);
    while (query.next()) {
        sightings.push_back(sighting_of_row(query));
        sightings.back().marker_corners = std::move(corners[query.small(17)]);
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

std::optional<PhotoNumber> tag_shot_of(const Book& book, const number::TagNumber& tag) {
    Query query(book,
                "SELECT min(photo) FROM sighting WHERE kind = ? AND text = ? AND confirmed = 1 AND photo IN "
                "(SELECT photo FROM program_link WHERE tag = ? UNION SELECT photo FROM person_word WHERE tag "
                "= ? AND belongs = 1) AND photo NOT IN (SELECT photo FROM person_word WHERE tag = ? AND "
                "belongs = 0)");
    query.with(stored_sighting_kind(SightingKind::tag), tag.text(), tag.text(), tag.text(), tag.text());
    return query.next() && !query.is_null(0) ? std::optional(PhotoNumber{query.whole(0)}) : std::nullopt;
}

std::set<PhotoNumber> photos_with_scale_marker(const Book& book) {
    Query query(book, "SELECT DISTINCT photo FROM sighting WHERE kind = ?");
    query.with(stored_sighting_kind(SightingKind::scale_marker));
    std::set<PhotoNumber> photos;
    while (query.next()) {
        photos.insert(PhotoNumber{query.whole(0)});
    }
    return photos;
}

}  // namespace stripbook::book
