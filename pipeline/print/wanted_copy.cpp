#include <algorithm>
#include <set>
#include <utility>

#include "print/donor_copy.h"
#include "print/photo_choice.h"
#include "print/wanted_sheet.h"

namespace stripbook::print {

namespace {

constexpr std::size_t most_as_removed = 2;

// A photo of the bench is shown by the overlay of its dimensions.
std::set<book::PhotoNumber> shown_photos(const book::PartFile& file) {
    std::set<book::PhotoNumber> shown;
    const auto sorted = sorted_photos(file);
    for (std::size_t i = 0; i < std::min(most_as_removed, sorted.large.size()); ++i) {
        shown.insert(sorted.large[i]->photo.number);
    }
    for (const auto& [before, after] : before_and_after(file)) {
        shown.insert(after->photo.number);
    }
    for (const auto& finding : file.inspection.findings) {
        if (finding.entry.stands()) {
            shown.insert(finding.photos.begin(), finding.photos.end());
        }
    }
    return shown;
}

}  // namespace

book::PartFile wanted_copy(book::PartFile file) {
    file = donor_copy(std::move(file), false);
    file.path.why.clear();
    file.path.from_whom.clear();
    file.path.ordered_on.clear();
    file.path.received_on.clear();
    std::erase_if(file.works, [](const book::Work& work) { return !work.is_open(); });
    const auto shown = shown_photos(file);
    std::erase_if(file.photos,
                  [&](const book::PartPhoto& photo) { return shown.count(photo.photo.number) == 0; });
    return file;
}

}  // namespace stripbook::print
