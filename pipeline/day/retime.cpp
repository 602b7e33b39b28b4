#include "day/retime.h"

#include <algorithm>
#include <iterator>
#include <set>
#include <utility>
#include <vector>

#include "book/cameras.h"
#include "book/photos.h"
#include "book/settings.h"
#include "book/sightings.h"
#include "link/capture_order.h"
#include "link/clocks.h"

namespace stripbook::day {

namespace {

constexpr const char* program = "stripbook";

using Photos = std::vector<book::Photo>;

// Until somebody sets the zone, the photos themselves know better than its default.
link::Zone workshop_zone(const book::Book& book, const Photos& photos) {
    for (const book::Setting& setting : book::all_settings(book)) {
        if (setting.name == "time zone" && !setting.is_default) {
            return link::Zone(setting.value);
        }
    }
    std::map<double, int> count;
    for (const auto& photo : photos) {
        if (const auto offset = link::seconds_of_offset(photo.camera_time.utc_offset)) {
            ++count[*offset];
        }
    }
    const auto most = std::max_element(count.begin(), count.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    return link::Zone(most == count.end() ? 0.0 : most->first);
}

// The only camera of each card that wrote times into its photos: what else lies on the card is taken to be
// its.
std::map<book::DumpId, book::CameraId> lone_cameras(const Photos& photos) {
    std::map<book::DumpId, std::set<book::CameraId>> cameras;
    for (const auto& photo : photos) {
        if (link::has_camera_time(photo)) {
            cameras[photo.dump].insert(photo.camera);
        }
    }
    std::map<book::DumpId, book::CameraId> lone;
    for (const auto& [dump, seen] : cameras) {
        if (seen.size() == 1) {
            lone[dump] = *seen.begin();
        }
    }
    return lone;
}

// Photos whose camera is not known stand by themselves, card by card.
using Clock = std::pair<book::CameraId, book::DumpId>;

std::map<Clock, Photos> by_clock(Photos photos) {
    const auto lone = lone_cameras(photos);
    std::map<Clock, Photos> clocks;
    for (auto& photo : photos) {
        const auto owner = lone.find(photo.dump);
        const bool timed = link::has_camera_time(photo);
        const book::CameraId camera = !timed && owner != lone.end() ? owner->second : photo.camera;
        const Clock clock{camera, camera.value == 0 ? photo.dump : book::DumpId{}};
        clocks[clock].push_back(std::move(photo));
    }
    return clocks;
}

void add_sightings(link::CameraEvidence& evidence,
                   const std::map<book::PhotoNumber, std::vector<book::Sighting>>& sightings) {
    for (const auto& photo : evidence.photos) {
        const auto seen = sightings.find(photo.number);
        if (seen == sightings.end()) {
            continue;
        }
        for (const auto& s : seen->second) {
            if (s.kind == book::SightingKind::tag && s.confirmed) {
                evidence.tags.push_back({photo.number, s.text});
            } else if (s.kind == book::SightingKind::clock_shot) {
                if (const auto utc_s = link::utc_of_clock_shot(s.text)) {
                    evidence.shots.push_back({photo.number, *utc_s});
                }
            }
        }
    }
}

}  // namespace

std::size_t retime(book::Book& book) {
    auto photos = book::all_photos(book);
    const link::Zone workshop = workshop_zone(book, photos);
    const auto sightings = book::all_sightings(book);
    const auto words = book::clock_words(book);
    std::vector<link::CameraEvidence> cameras;
    for (auto& [clock, taken] : by_clock(std::move(photos))) {
        link::CameraEvidence evidence{clock.first, std::move(taken), {}, {}, {}};
        add_sightings(evidence, sightings);
        std::copy_if(words.begin(), words.end(), std::back_inserter(evidence.words),
                     [&](const book::ClockWord& word) { return word.camera == evidence.camera; });
        cameras.push_back(std::move(evidence));
    }
    link::Clocks clocks = link::true_times(cameras, workshop);
    std::erase_if(clocks.pieces, [](const book::ClockPiece& piece) { return piece.camera.value == 0; });
    return book::replace_clocks(book, clocks.pieces, clocks.times, program);
}

std::map<book::CameraId, std::string> capture_orders(const book::Book& book) {
    std::map<book::CameraId, std::string> orders;
    for (const auto& [clock, photos] : by_clock(book::all_photos(book))) {
        orders[clock.first] = link::capture_order(photos).rests_on;
    }
    return orders;
}

}  // namespace stripbook::day
