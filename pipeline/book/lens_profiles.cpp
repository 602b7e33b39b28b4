#include "book/lens_profiles.h"

#include <nlohmann/json.hpp>

#include "book/clock.h"
#include "book/sql_access.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* select_lenses =
    "SELECT camera, focal_length_mm, width_px, height_px, focal_px, centre_x_px, centre_y_px, k1, k2, "
    "covariance, photos, residual_rms_px, at, camera.maker, camera.model, camera.serial FROM lens_profile "
    "JOIN camera ON camera.id = lens_profile.camera ";

std::array<double, 25> covariance_from_stored(const std::string& text) {
    const auto list = nlohmann::json::parse(text, nullptr, false);
    std::array<double, 25> covariance{};
    if (!list.is_array() || list.size() != covariance.size()) {
        throw BookError(
            "the book holds a lens profile that cannot be read; run stripbook measure --all --again");
    }
    for (std::size_t i = 0; i < covariance.size(); ++i) {
        covariance[i] = list[i].is_number() ? list[i].get<double>() : 0;
    }
    return covariance;
}

LensRecord lens_of_row(Query& row) {
    LensRecord lens;
    lens.camera = {row.whole(0)};
    lens.focal_length_mm = row.real(1);
    lens.width_px = row.small(2);
    lens.height_px = row.small(3);
    lens.focal_px = row.real(4);
    lens.centre_x_px = row.real(5);
    lens.centre_y_px = row.real(6);
    lens.k1 = row.real(7);
    lens.k2 = row.real(8);
    lens.covariance = covariance_from_stored(row.text(9));
    lens.photos = row.small(10);
    lens.residual_rms_px = row.real(11);
    lens.at = row.text(12);
    lens.camera_words = row.text(13) + " " + row.text(14) + " " + row.text(15);
    return lens;
}

}  // namespace

void save_lens(Book& book, const LensRecord& lens) {
    Query(book, "INSERT OR REPLACE INTO lens_profile VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)")
        .with(lens.camera.value, lens.focal_length_mm, lens.width_px, lens.height_px, lens.focal_px,
              lens.centre_x_px, lens.centre_y_px, lens.k1, lens.k2, nlohmann::json(lens.covariance).dump(),
              lens.photos, lens.residual_rms_px, now_utc())
        .run();
}

std::vector<LensRecord> all_lenses(const Book& book) {
    Query query(book, std::string(select_lenses) + "ORDER BY camera, focal_length_mm, width_px");
    std::vector<LensRecord> lenses;
    while (query.next()) {
        lenses.push_back(lens_of_row(query));
    }
    return lenses;
}

std::optional<LensRecord> find_lens(const Book& book, CameraId camera, double focal_length_mm, int width_px,
                                    int height_px) {
    Query query(book, std::string(select_lenses) +
                          "WHERE camera = ? AND focal_length_mm = ? AND width_px = ? AND height_px = ?");
    query.with(camera.value, focal_length_mm, width_px, height_px);
    return query.next() ? std::optional(lens_of_row(query)) : std::nullopt;
}

}  // namespace stripbook::book
