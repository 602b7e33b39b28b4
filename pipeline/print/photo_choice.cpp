#include "print/photo_choice.h"

#include <algorithm>

namespace stripbook::print {

SortedPhotos sorted_photos(const book::PartFile& part_file) {
    const auto is_as_removed = [](const book::PartPhoto& photo) {
        return photo.stage == "as-removed" && !photo.on_bench &&
               photo.photo.original.kind != book::FileKind::video;
    };
    SortedPhotos sorted;
    sorted.stage_known = std::any_of(part_file.photos.begin(), part_file.photos.end(), is_as_removed);
    for (const auto& photo : part_file.photos) {
        const bool large = sorted.stage_known ? is_as_removed(photo) : photo.stage.empty() && !photo.on_bench;
        if (photo.photo.original.kind == book::FileKind::video) {
            sorted.videos.push_back(&photo);
        } else if (large) {
            sorted.large.push_back(&photo);
        } else {
            sorted.details.push_back(&photo);
        }
    }
    return sorted;
}

std::vector<std::pair<const book::PartPhoto*, const book::PartPhoto*>> before_and_after(
    const book::PartFile& part_file) {
    std::vector<const book::PartPhoto*> of_stages;
    for (const char* stage : book::stage_words) {
        const book::PartPhoto* chosen = nullptr;
        for (const auto& photo : part_file.photos) {
            const bool fits = photo.stage == stage && photo.photo.original.kind != book::FileKind::video;
            if (fits && (chosen == nullptr || (chosen->on_bench && !photo.on_bench))) {
                chosen = &photo;
            }
        }
        if (chosen != nullptr) {
            of_stages.push_back(chosen);
        }
    }
    std::vector<std::pair<const book::PartPhoto*, const book::PartPhoto*>> pairs;
    for (std::size_t i = 1; i < of_stages.size(); ++i) {
        pairs.emplace_back(of_stages[i - 1], of_stages[i]);
    }
    return pairs;
}

}  // namespace stripbook::print
