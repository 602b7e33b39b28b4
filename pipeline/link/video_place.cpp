#include "link/video_place.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace stripbook::link {

namespace {

using book::Photo;

constexpr double tolerance_s = 10;
constexpr double quarter_hour_s = 900;
constexpr double widest_zone_s = 14 * 3600;  // UTC+14: the IANA time zone database

// What one card holds.
struct Card {
    std::vector<Photo*> videos;
    std::vector<const Photo*> photos;  // that decode: others do not say their camera; by file time
};

double camera_time_less_file_time(const Photo& photo) {
    return photo.camera_time.seconds - photo.file_time_s;
}

bool is_time_zone(double shift_s) {
    return std::abs(shift_s) <= widest_zone_s + tolerance_s &&
           std::abs(std::remainder(shift_s, quarter_hour_s)) <= tolerance_s;
}

// One or two photos: before and after the video, or the two nearest on its one side.
std::vector<const Photo*> neighbours(const std::vector<const Photo*>& photos, const Photo& video) {
    const auto after = std::find_if(photos.begin(), photos.end(), [&](const Photo* photo) {
        return photo->file_time_s > video.file_time_s;
    });
    const auto place = after - photos.begin();
    const auto count = static_cast<std::ptrdiff_t>(photos.size());
    const auto first = std::clamp<std::ptrdiff_t>(place - 1, 0, std::max<std::ptrdiff_t>(count - 2, 0));
    return {photos.begin() + first, photos.begin() + std::min(first + 2, count)};
}

// Why the video has no place; empty when it was given one.
std::string place(Photo& video, const Card& card) {
    std::set<book::CameraId> cameras;
    for (const Photo* photo : card.photos) {
        cameras.insert(photo->camera);
    }
    if (cameras.empty()) {
        return "";
    }
    if (cameras.size() > 1) {
        return fmt::format("its card holds photos of {} cameras, so whose video it is is not known",
                           cameras.size());
    }
    const auto near = neighbours(card.photos, video);
    const double shift_s = camera_time_less_file_time(*near.front());
    if (!is_time_zone(shift_s) ||
        std::abs(camera_time_less_file_time(*near.back()) - shift_s) > tolerance_s) {
        return "the file times on its card do not go with the camera's clock, so when it was taken is not "
               "known";
    }
    video.camera = *cameras.begin();
    video.camera_time.seconds = video.file_time_s + shift_s;
    return "";
}

}  // namespace

std::map<book::PhotoNumber, std::string> place_videos(std::vector<Photo*> photos) {
    std::stable_sort(photos.begin(), photos.end(),
                     [](const Photo* a, const Photo* b) { return a->file_time_s < b->file_time_s; });
    std::map<book::DumpId, Card> cards;
    for (Photo* photo : photos) {
        if (photo->original.kind == book::FileKind::video) {
            cards[photo->dump].videos.push_back(photo);
        } else if (photo->read_state == book::ReadState::read) {
            cards[photo->dump].photos.push_back(photo);
        }
    }
    std::map<book::PhotoNumber, std::string> without_place;
    for (const auto& [dump, card] : cards) {
        for (Photo* video : card.videos) {
            if (std::string why = place(*video, card); !why.empty()) {
                without_place.emplace(video->number, std::move(why));
            }
        }
    }
    return without_place;
}

}  // namespace stripbook::link
