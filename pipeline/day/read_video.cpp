#include "day/read_video.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "day/picture_sightings.h"
#include "photo/jpeg_writer.h"
#include "photo/video.h"

namespace stripbook::day {

namespace {

using book::Sighting;
using book::SightingKind;

constexpr int poster_quality = 85;

book::PhotoFacts facts_of(const photo::Video& video) {
    book::PhotoFacts facts;
    facts.width_px = video.size.width;
    facts.height_px = video.size.height;
    facts.read_state = video.whole ? book::ReadState::read : book::ReadState::damaged;
    facts.read_note = video.whole ? video.note : video.fault;
    return facts;
}

bool counts_in_a_video(const Sighting& seen) {
    return seen.kind == SightingKind::tag || seen.kind == SightingKind::other_code;
}

Sighting at(Sighting seen, double at_s) {
    seen.how += fmt::format("{}at {:.1f} s", seen.how.empty() ? "" : ", ", at_s);
    return seen;
}

bool may_be_another(const Sighting& doubtful, const std::set<std::string>& confirmed) {
    const auto& list = doubtful.suggestions;
    return confirmed.empty() ||
           (!list.empty() && std::none_of(list.begin(), list.end(),
                                          [&](const std::string& text) { return confirmed.contains(text); }));
}

}  // namespace

std::vector<Sighting> sightings_of_video(const std::vector<FrameSightings>& frames) {
    std::vector<Sighting> kept;
    std::map<SightingKind, std::set<std::string>> confirmed;
    for (const auto& frame : frames) {
        for (const auto& seen : frame.sightings) {
            if (counts_in_a_video(seen) && seen.confirmed && confirmed[seen.kind].insert(seen.text).second) {
                kept.push_back(at(seen, frame.at_s));
            }
        }
    }
    const auto& tags = confirmed[SightingKind::tag];
    for (const auto& frame : frames) {
        for (const auto& seen : frame.sightings) {
            if (seen.kind == SightingKind::tag && !seen.confirmed && may_be_another(seen, tags)) {
                kept.push_back(at(seen, frame.at_s));
                return kept;
            }
        }
    }
    return kept;
}

PhotoReading read_video(const std::string& path, const Expected& expected) {
    const photo::Video video = photo::sample_video(path);
    std::vector<FrameSightings> frames;
    for (const auto& frame : video.frames) {
        frames.push_back({frame.at_s, sightings_in(frame.grey, expected)});
    }
    PhotoReading reading{facts_of(video), sightings_of_video(frames), {}, {}};
    if (!video.poster.empty()) {
        reading.poster = photo::write_jpeg(video.poster, poster_quality, "");
    }
    return reading;
}

}  // namespace stripbook::day
