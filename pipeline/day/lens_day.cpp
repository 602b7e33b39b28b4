#include "day/lens_day.h"

#include <fmt/format.h>

#include <algorithm>
#include <tuple>

#include "book/lens_profiles.h"
#include "book/photos.h"
#include "book/sightings.h"
#include "day/sheet_choice.h"

namespace stripbook::day {

namespace {

// Photos that share a profile: zooming changes the lens, and so does the size of the picture.
using LensKey = std::tuple<book::CameraId, double, int, int>;

std::optional<LensKey> key_of(const book::Photo& photo) {
    if (photo.camera.value == 0 || !photo.focal_length_mm || photo.width_px <= 0) {
        return std::nullopt;
    }
    return LensKey{photo.camera, *photo.focal_length_mm, photo.width_px, photo.height_px};
}

scale::LensProfile start_for(const book::Photo& photo) {
    return scale::lens_from_exif(photo.focal_length_35_mm, {photo.width_px, photo.height_px});
}

scale::LensProfile profile_from(const book::LensRecord& record) {
    scale::LensProfile lens;
    lens.size_px = {record.width_px, record.height_px};
    lens.focal_px = record.focal_px;
    lens.centre_px = {record.centre_x_px, record.centre_y_px};
    lens.k1 = record.k1;
    lens.k2 = record.k2;
    std::copy(record.covariance.begin(), record.covariance.end(), lens.covariance.val);
    lens.photos = record.photos;
    lens.residual_rms_px = record.residual_rms_px;
    return lens;
}

book::LensRecord record_of(const LensKey& key, const scale::LensProfile& lens) {
    book::LensRecord record;
    std::tie(record.camera, record.focal_length_mm, record.width_px, record.height_px) = key;
    record.focal_px = lens.focal_px;
    record.centre_x_px = lens.centre_px.x;
    record.centre_y_px = lens.centre_px.y;
    record.k1 = lens.k1;
    record.k2 = lens.k2;
    std::copy(std::begin(lens.covariance.val), std::end(lens.covariance.val), record.covariance.begin());
    record.photos = lens.photos;
    record.residual_rms_px = lens.residual_rms_px;
    return record;
}

struct Views {
    std::vector<scale::SheetView> views;
    std::optional<book::Photo> photo;  // one of them, for its EXIF
};

std::map<LensKey, Views> views_by_lens(const book::Book& book) {
    constexpr std::size_t most_views = 60;
    const auto sheets = book::marker_sheets(book);
    std::map<LensKey, Views> by_lens;
    const auto with_marker = book::photos_with_scale_marker(book);
    auto photos = book::all_photos(book);
    std::reverse(photos.begin(), photos.end());  // the latest first
    for (const auto& photo : photos) {
        const auto key = with_marker.count(photo.number) > 0 ? key_of(photo) : std::nullopt;
        if (!key || by_lens[*key].views.size() >= most_views) {
            continue;
        }
        const auto seen = book::sightings_of(book, photo.number);
        for (const auto& marker : seen) {
            if (marker.kind != book::SightingKind::scale_marker) {
                continue;
            }
            const auto choice = choose_sheet(marker.text, sheets, seen, true);
            if (auto view = scale::sheet_seen(fiducials_of(marker), *choice.correction)) {
                by_lens[*key].views.push_back(std::move(view->view));
                by_lens[*key].photo = photo;
            }
        }
    }
    return by_lens;
}

}  // namespace

std::vector<fiducial::Fiducial> fiducials_of(const book::Sighting& marker) {
    std::vector<fiducial::Fiducial> fiducials;
    for (const auto& seen : marker.marker_corners) {
        fiducial::Fiducial fiducial;
        fiducial.family = fiducial::Family::tag25h9;
        fiducial.identity = seen.identity;
        for (std::size_t i = 0; i < fiducial.corners.size(); ++i) {
            fiducial.corners[i] = {seen.corners_px[i].x, seen.corners_px[i].y};
            fiducial.centre += fiducial.corners[i] * 0.25;
        }
        fiducials.push_back(fiducial);
    }
    return fiducials;
}

std::size_t estimate_lenses(book::Book& book) {
    constexpr std::size_t least_views = 2;
    std::size_t kept = 0;
    for (const auto& [key, group] : views_by_lens(book)) {
        if (group.views.size() < least_views) {
            continue;
        }
        const auto estimate = scale::estimate_lens(group.views, start_for(*group.photo));
        if (estimate.fault.empty()) {
            book::save_lens(book, record_of(key, estimate.lens));
            ++kept;
        }
    }
    return kept;
}

LensForPhoto lens_for(const book::Book& book, const book::Photo& photo) {
    if (const auto key = key_of(photo)) {
        const auto& [camera, focal_length_mm, width_px, height_px] = *key;
        if (const auto record = book::find_lens(book, camera, focal_length_mm, width_px, height_px)) {
            return {profile_from(*record), fmt::format("lens of {} at {} mm, from {} photos",
                                                       photo.camera_words, focal_length_mm, record->photos)};
        }
    }
    return {start_for(photo), photo.focal_length_35_mm
                                  ? "lens from the EXIF focal length, no distortion known"
                                  : "lens guessed: the photo says no focal length"};
}

}  // namespace stripbook::day
