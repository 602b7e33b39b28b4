// A reading as a line of JSON text, the poster behind it, and back: what crosses the pipe from the worker.
// Strings are made valid UTF-8 on the way out.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "day/read_photo.h"

namespace stripbook::day {

namespace {

using nlohmann::json;

json to_json(const book::PhotoFacts& f) {
    json j{{"maker", f.maker},
           {"model", f.model},
           {"serial", f.serial},
           {"width", f.width_px},
           {"height", f.height_px},
           {"orientation", f.orientation},
           {"damaged", f.read_state == book::ReadState::damaged},
           {"note", f.read_note}};
    if (f.exif_time) {
        j["time"] = {{"seconds", f.exif_time->seconds},
                     {"text", f.exif_time->text},
                     {"offset", f.exif_time->utc_offset}};
    }
    if (f.focal_length_mm) {
        j["focal"] = *f.focal_length_mm;
    }
    if (f.focal_length_35_mm) {
        j["focal35"] = *f.focal_length_35_mm;
    }
    return j;
}

book::PhotoFacts facts_from(const json& j) {
    book::PhotoFacts f;
    f.maker = j.at("maker");
    f.model = j.at("model");
    f.serial = j.at("serial");
    f.width_px = j.at("width");
    f.height_px = j.at("height");
    f.orientation = j.at("orientation");
    f.read_state = j.at("damaged").get<bool>() ? book::ReadState::damaged : book::ReadState::read;
    f.read_note = j.at("note");
    if (j.contains("time")) {
        const auto& time = j.at("time");
        f.exif_time = book::CaptureTime{time.at("seconds"), time.at("text"), time.at("offset"), "EXIF"};
    }
    if (j.contains("focal")) {
        f.focal_length_mm = j.at("focal").get<double>();
    }
    if (j.contains("focal35")) {
        f.focal_length_35_mm = j.at("focal35").get<double>();
    }
    return f;
}

json to_json(const std::array<book::PointPx, 4>& corners) {
    json list = json::array();
    for (const auto& corner : corners) {
        list.push_back({corner.x, corner.y});
    }
    return list;
}

std::array<book::PointPx, 4> corners_from(const json& j) {
    std::array<book::PointPx, 4> corners;
    for (std::size_t i = 0; i < corners.size(); ++i) {
        corners[i] = {j.at(i).at(0), j.at(i).at(1)};
    }
    return corners;
}

json to_json(const book::Sighting& s) {
    json marker_corners = json::array();
    for (const auto& marker : s.marker_corners) {
        marker_corners.push_back({{"identity", marker.identity}, {"corners", to_json(marker.corners_px)}});
    }
    return {{"kind", static_cast<int>(s.kind)},
            {"text", s.text},
            {"confirmed", s.confirmed},
            {"how", s.how},
            {"doubt", s.doubt},
            {"by_qr", s.by_qr},
            {"fiducials", s.fiducials},
            {"corners", to_json(s.corners_px)},
            {"marker corners", marker_corners},
            {"suggestions", s.suggestions}};
}

book::Sighting sighting_from(const json& j) {
    book::Sighting s;
    s.kind = static_cast<book::SightingKind>(j.at("kind").get<int>());
    s.text = j.at("text");
    s.confirmed = j.at("confirmed");
    s.how = j.at("how");
    s.doubt = j.at("doubt");
    s.by_qr = j.at("by_qr");
    s.fiducials = j.at("fiducials");
    s.suggestions = j.at("suggestions").get<std::vector<std::string>>();
    s.corners_px = corners_from(j.at("corners"));
    for (const auto& marker : j.at("marker corners")) {
        s.marker_corners.push_back({marker.at("identity"), corners_from(marker.at("corners"))});
    }
    return s;
}

}  // namespace

std::string to_answer(const PhotoReading& reading) {
    json sightings = json::array();
    for (const auto& s : reading.sightings) {
        sightings.push_back(to_json(s));
    }
    const json j{
        {"facts", to_json(reading.facts)},
        {"sightings", sightings},
        {"signature", std::vector<unsigned char>(reading.signature.begin(), reading.signature.end())}};
    return j.dump(-1, ' ', false, json::error_handler_t::replace) + '\n' + reading.poster;
}

PhotoReading reading_from_answer(const std::string& answer) {
    const auto line_end = std::min(answer.find('\n'), answer.size());
    const json j = json::parse(answer.substr(0, line_end));
    PhotoReading reading{
        facts_from(j.at("facts")), {}, answer.substr(std::min(line_end + 1, answer.size())), {}};
    const auto signature = j.at("signature").get<std::vector<unsigned char>>();
    reading.signature.assign(signature.begin(), signature.end());
    for (const auto& s : j.at("sightings")) {
        reading.sightings.push_back(sighting_from(s));
    }
    return reading;
}

}  // namespace stripbook::day
