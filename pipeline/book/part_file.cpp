#include "book/part_file.h"

#include <algorithm>
#include <map>
#include <tuple>

#include "book/hazards.h"
#include "book/history.h"
#include "book/links.h"
#include "book/part_stages.h"
#include "book/parts.h"
#include "book/photos.h"
#include "book/settings.h"
#include "book/sightings.h"
#include "book/stages.h"

namespace stripbook::book {

namespace {

constexpr double seconds_per_minute = 60;

std::vector<PartPhoto> photos_with_links(const Book& book, const number::TagNumber& tag) {
    std::vector<PartPhoto> photos;
    for (const auto& link : links_of(book, tag)) {
        if (auto photo = find_photo(book, link.photo)) {
            photos.push_back({*photo, link, false, "", false});
        }
    }
    std::sort(photos.begin(), photos.end(), [](const PartPhoto& a, const PartPhoto& b) {
        return std::tuple(a.photo.corrected_seconds, a.photo.number) <
               std::tuple(b.photo.corrected_seconds, b.photo.number);
    });
    return photos;
}

// Whether the part's photo before it of the same camera came just before it.
bool follows(const Book& book, const PartPhoto& photo, const PartPhoto& before, double link_time_s) {
    const double gap_s = photo.photo.camera_time.seconds - before.photo.camera_time.seconds;
    return gap_s >= 0 && gap_s <= link_time_s && nothing_between(book, before.photo, photo.photo);
}

// Sets on_bench besides, from the same sightings.
std::vector<StageSigns> cards_seen(const Book& book, std::vector<PartPhoto>& photos) {
    std::vector<StageSigns> signs;
    for (auto& photo : photos) {
        StageSigns own;
        for (const auto& sighting : sightings_of(book, photo.photo.number)) {
            photo.on_bench |= sighting.confirmed && sighting.kind == SightingKind::scale_marker;
            if (sighting.confirmed && sighting.kind == SightingKind::stage_card) {
                own.cards.push_back(sighting.text);
            }
        }
        signs.push_back(std::move(own));
    }
    return signs;
}

// How each photo follows the one before it. Only where a stage is said or shown that matters, and few parts
// have one.
void add_following(const Book& book, const std::vector<PartPhoto>& photos, std::vector<StageSigns>& signs) {
    const bool cards =
        std::any_of(signs.begin(), signs.end(), [](const StageSigns& s) { return !s.cards.empty(); });
    const bool words = std::any_of(photos.begin(), photos.end(),
                                   [](const PartPhoto& p) { return p.photo.stage_by_person.has_value(); });
    if (!cards && !words) {
        return;
    }
    const double link_time_s = std::stod(setting(book, "link time")) * seconds_per_minute;
    std::map<CameraId, const PartPhoto*> last;
    for (std::size_t i = 0; i < photos.size(); ++i) {
        const PartPhoto*& before = last[photos[i].photo.camera];
        signs[i].follows = before != nullptr && follows(book, photos[i], *before, link_time_s);
        before = &photos[i];
        signs[i].soon_after =
            i > 0 && photos[i].photo.corrected_seconds - photos[i - 1].photo.corrected_seconds <= link_time_s;
    }
}

}  // namespace

PartFile gather_part(const Book& book, const number::TagNumber& tag) {
    PartFile file(part_or_refusal(book, tag));
    file.photos = photos_with_links(book, tag);
    auto signs = cards_seen(book, file.photos);
    add_following(book, file.photos, signs);
    set_stages(file.photos, signs, part_stages(book, tag));
    file.measurements = measurements_of(book, tag);
    file.hazards = hazards_of(book, tag);
    file.inspection = inspection_of(book, tag);
    file.path = path_of(book, tag);
    file.works = works_of(book, tag);
    file.fasteners = fasteners_of(book, tag);
    file.taken_from_it = taken_from(book, tag);
    file.history = history_of(book, tag.text());
    return file;
}

std::string latest_stage(const PartFile& file) {
    const auto latest = std::find_if(file.photos.rbegin(), file.photos.rend(),
                                     [](const PartPhoto& photo) { return !photo.stage.empty(); });
    return latest == file.photos.rend() ? "" : latest->stage;
}

}  // namespace stripbook::book
