#include "day/read_photo.h"

#include <fmt/format.h>

#include <iterator>
#include <sstream>

#include "day/file_bytes.h"
#include "photo/metadata.h"
#include "photo/picture.h"
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

book::PhotoFacts facts_of(const photo::Metadata& metadata, const photo::Picture& picture) {
    book::PhotoFacts facts;
    facts.maker = metadata.maker;
    facts.model = metadata.model;
    facts.serial = metadata.serial;
    if (const auto seconds = photo::seconds_of(metadata.time)) {
        facts.exif_time = book::CaptureTime{*seconds, metadata.time, metadata.utc_offset, "EXIF"};
    }
    facts.width_px = picture.stored.width;
    facts.height_px = picture.stored.height;
    facts.orientation = metadata.orientation;
    facts.focal_length_mm = metadata.focal_length_mm;
    facts.focal_length_35_mm = metadata.focal_length_35_mm;
    facts.read_state = picture.whole ? book::ReadState::read : book::ReadState::damaged;
    facts.read_note = !picture.whole ? picture.fault : metadata.fault.empty() ? picture.note : metadata.fault;
    return facts;
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

}  // namespace

PhotoReading read_photo(std::string_view file_bytes, const Expected& expected) {
    const photo::Picture picture = photo::decode_grey(file_bytes);
    PhotoReading reading{facts_of(photo::read_metadata(file_bytes), picture), {}};
    // What there is of a damaged picture is read too: a tag in it helps the person who decides.
    if (!picture.pixels.empty()) {
        reading.sightings = sightings_in(picture.pixels, expected);
    }
    return reading;
}

std::string job_for(const std::string& path, const Expected& expected) {
    // A path and a code's text are any bytes, so none of them ends another: lengths say where.
    std::string job = fmt::format("{} {} ", expected.here.text(), expected.other_tags.size());
    for (const auto& text : expected.other_tags) {
        job += fmt::format("{} {}", text.size(), text);
    }
    return job + path;
}

std::string answer_to(const std::string& job) {
    std::istringstream words(job);
    std::string code;
    std::size_t count = 0;
    words >> code >> count;
    words.get();
    Expected expected{number::BookCode::from_typed(code), {}};
    for (std::size_t i = 0; i < count; ++i) {
        std::size_t length = 0;
        words >> length;
        words.get();
        std::string text(length, '\0');
        words.read(text.data(), static_cast<std::streamsize>(length));
        expected.other_tags.push_back(text);
    }
    const std::string path{std::istreambuf_iterator<char>(words), std::istreambuf_iterator<char>()};
    return to_answer(read_photo(bytes_of_original(path), expected));
}

}  // namespace stripbook::day
