#include "link/camera_days.h"

#include <algorithm>
#include <cmath>
#include <iterator>

#include "link/capture_order.h"
#include "link/video_place.h"

namespace stripbook::link {

namespace {

using book::CameraId;
using book::Photo;
using book::PhotoNumber;

// A video that was given a camera's time gets what that camera's clock is corrected by, too.
void correct_times_of_videos(std::vector<PhotoSightings>& photos) {
    std::map<CameraId, std::vector<const Photo*>> stills;
    for (const auto& p : photos) {
        if (p.photo.original.kind != book::FileKind::video) {
            stills[p.photo.camera].push_back(&p.photo);
        }
    }
    for (auto& [camera, list] : stills) {
        std::sort(list.begin(), list.end(), [](const Photo* a, const Photo* b) {
            return std::tie(a->camera_time.seconds, a->number) < std::tie(b->camera_time.seconds, b->number);
        });
    }
    for (auto& p : photos) {
        const auto list = stills.find(p.photo.camera);
        if (p.photo.original.kind != book::FileKind::video || list == stills.end()) {
            continue;
        }
        const double at_s = p.photo.camera_time.seconds;
        auto near =
            std::lower_bound(list->second.begin(), list->second.end(), at_s,
                             [](const Photo* photo, double s) { return photo->camera_time.seconds < s; });
        if (near == list->second.end()) {
            --near;
        }
        p.photo.corrected_seconds = at_s + (*near)->corrected_seconds - (*near)->camera_time.seconds;
    }
}

}  // namespace

CameraDays camera_days(const std::vector<PhotoSightings>& photos, const number::BookCode& here,
                       const Rules& rules) {
    CameraDays found;
    found.photos = photos;
    std::sort(found.photos.begin(), found.photos.end(), [](const PhotoSightings& a, const PhotoSightings& b) {
        return a.photo.number < b.photo.number;
    });
    std::vector<Photo*> to_place;
    std::transform(found.photos.begin(), found.photos.end(), std::back_inserter(to_place),
                   [](PhotoSightings& p) { return &p.photo; });
    found.without_place = place_videos(to_place);
    correct_times_of_videos(found.photos);
    std::vector<Observed> seen;
    std::map<PhotoNumber, std::size_t> place;
    std::map<CameraId, std::vector<Photo>> by_camera;
    for (const PhotoSightings& p : found.photos) {
        place[p.photo.number] = seen.size();
        seen.push_back(observe(p, here, rules));
        if (!found.without_place.contains(p.photo.number)) {
            by_camera[p.photo.camera].push_back(p.photo);
        }
    }
    mark_tag_sheets(seen, rules);
    for (const auto& [number, why] : found.without_place) {
        found.days.push_back({{seen[place.at(number)]}});
        found.camera_of_day.push_back(seen[place.at(number)].from->photo.camera);
    }
    for (auto& [camera, taken] : by_camera) {
        const Observed* last = nullptr;
        for (const Photo& photo : in_capture_order(std::move(taken))) {
            const Observed& now = seen[place.at(photo.number)];
            if (last == nullptr || std::abs(now.seconds - last->seconds) > night_s) {
                found.days.emplace_back();
                found.camera_of_day.push_back(camera);
            }
            found.days.back().photos.push_back(now);
            last = &now;
        }
    }
    return found;
}

}  // namespace stripbook::link
