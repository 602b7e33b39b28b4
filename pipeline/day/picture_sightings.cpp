#include "day/picture_sightings.h"

#include <fmt/format.h>

#include "scale/find_markers.h"
#include "tag/other_codes.h"
#include "tag/read_picture.h"

namespace stripbook::day {

namespace {

using book::Sighting;
using book::SightingKind;

book::PointPx to_book(const cv::Point2d& p) {
    return {p.x, p.y};
}

std::array<book::PointPx, 4> to_book(const std::array<cv::Point2d, 4>& corners) {
    return {to_book(corners[0]), to_book(corners[1]), to_book(corners[2]), to_book(corners[3])};
}

Sighting from_tag(const tag::TagSighting& seen) {
    Sighting s;
    s.kind = SightingKind::tag;
    s.text = seen.number ? seen.number->text() : "";
    s.confirmed = seen.number.has_value();
    s.how = seen.how();
    s.doubt = seen.doubt;
    s.by_qr = seen.by_qr;
    s.fiducials = seen.number ? seen.fiducials_agreeing : seen.fiducials_seen;
    s.corners_px = to_book(seen.corners);
    for (const auto& suggestion : seen.suggestions) {
        s.suggestions.push_back(suggestion.text());
    }
    return s;
}

Sighting from_other_code(const tag::QrCode& code) {
    Sighting s;
    // "R/" on printed reports, "TIME " on clock shots: docs/tag-code.md.
    s.kind = code.text.starts_with("R/")      ? SightingKind::report
             : code.text.starts_with("TIME ") ? SightingKind::clock_shot
                                              : SightingKind::other_code;
    s.text = code.text;
    s.confirmed = true;
    s.how = "QR code";
    s.by_qr = true;
    s.corners_px = to_book(code.corners);
    return s;
}

Sighting from_marker(const scale::MarkerSighting& marker) {
    Sighting s;
    s.kind = SightingKind::scale_marker;
    s.text = marker.kind;
    s.confirmed = true;
    s.how = fmt::format("{} fiducials", marker.fiducials);
    s.fiducials = marker.fiducials;
    s.corners_px = to_book(marker.corners);
    for (const auto& fiducial : marker.found) {
        s.marker_corners.push_back({fiducial.identity, to_book(fiducial.corners)});
    }
    return s;
}

Sighting from_stage_card(const scale::StageCardSighting& card) {
    Sighting s;
    s.kind = SightingKind::stage_card;
    s.text = card.stage;
    s.confirmed = card.confirmed;
    s.how = card.confirmed ? "2 fiducials" : "1 fiducial";
    s.doubt = card.confirmed ? "" : "only one of the card's two fiducials was found";
    s.fiducials = card.confirmed ? 2 : 1;
    s.corners_px.fill(to_book(card.centre));
    return s;
}

void add_other_codes(const cv::Mat& grey, const Expected& expected, std::vector<Sighting>& sightings) {
    if (expected.other_tags.empty()) {
        return;
    }
    for (const auto& code : tag::read_other_codes(grey, expected.other_tags)) {
        Sighting s;
        s.kind = SightingKind::other_code;
        s.text = code.text;
        s.confirmed = true;
        s.how = code.symbology;
        s.corners_px = to_book(code.corners);
        sightings.push_back(s);
    }
}

}  // namespace

std::vector<Sighting> sightings_in(const cv::Mat& grey, const Expected& expected) {
    std::vector<Sighting> sightings;
    add_other_codes(grey, expected, sightings);
    const auto [tags, fiducials] = tag::read_picture(grey, expected.here);
    for (const auto& seen : tags.tags) {
        sightings.push_back(from_tag(seen));
    }
    for (const auto& code : tags.other_codes) {
        sightings.push_back(from_other_code(code));
    }
    const auto markers = scale::find_markers(fiducials);
    for (const auto& marker : markers.markers) {
        sightings.push_back(from_marker(marker));
    }
    for (const auto& card : markers.stage_cards) {
        sightings.push_back(from_stage_card(card));
    }
    return sightings;
}

}  // namespace stripbook::day
