#include "book/stages.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>

#include "book/clock.h"

namespace stripbook::book {

namespace {

const std::string as_removed = stage_words[0];

struct CardInRun {
    std::string stage;
    PhotoNumber photo;
};

// Two cards of one stage are one; two of different stages say nothing.
bool agree(const std::vector<std::string>& cards) {
    return std::adjacent_find(cards.begin(), cards.end(), std::not_equal_to<>()) == cards.end();
}

void set_by_cards(std::vector<PartPhoto>& photos, const std::vector<StageSigns>& signs) {
    std::map<CameraId, std::optional<CardInRun>> runs;
    for (std::size_t i = 0; i < photos.size(); ++i) {
        PartPhoto& p = photos[i];
        auto& run = runs[p.photo.camera];
        const auto& cards = signs[i].cards;
        if (!cards.empty() && agree(cards)) {
            run = CardInRun{cards.front(), p.photo.number};
            p.stage = run->stage;
            p.stage_why = "a stage card is in the picture";
        } else if (!cards.empty()) {
            run.reset();
            p.stage_why = "different stage cards are in the picture";
        } else if (!signs[i].follows) {
            run.reset();
        } else if (run) {
            p.stage = run->stage;
            p.stage_why = fmt::format("it follows {}, which shows a stage card", run->photo.text());
        }
    }
}

void set_by_person(std::vector<PartPhoto>& photos) {
    for (auto& p : photos) {
        if (p.photo.stage_by_person) {
            p.stage = *p.photo.stage_by_person;
            p.stage_by_person = true;
            p.stage_why = "a person said so";
        }
    }
}

// The last word for a day on or before the photo's.
void set_by_part(std::vector<PartPhoto>& photos, const std::vector<PartStage>& said) {
    for (auto& p : photos) {
        const auto taken = time_words(p.photo.corrected_seconds);
        if (!p.stage.empty() || !p.stage_why.empty() || !taken) {
            continue;
        }
        const std::string day = taken->substr(0, taken->find('T'));
        const auto after =
            std::find_if(said.begin(), said.end(), [&](const PartStage& s) { return s.from_date > day; });
        if (after != said.begin()) {
            const PartStage& holds = *std::prev(after);
            p.stage = holds.stage;
            p.stage_by_person = true;
            p.stage_why = fmt::format("{} said that the part is {} from {} on", holds.who, holds.stage,
                                      holds.from_date);
        }
    }
}

bool is_known_later(const PartPhoto& p) {
    return !p.stage.empty() && p.stage != as_removed;
}

void set_as_removed(std::vector<PartPhoto>& photos, std::vector<PartPhoto>::iterator last,
                    const std::string& why) {
    for (auto it = photos.begin(); it != last; ++it) {
        if (it->stage.empty() && it->stage_why.empty()) {
            it->stage = as_removed;
            it->stage_why = why;
        }
    }
}

// Where the sitting of photos begins to which the one at `it` belongs: the card may have been put there late.
std::vector<PartPhoto>::iterator start_of_sitting(std::vector<PartPhoto>& photos,
                                                  std::vector<PartPhoto>::iterator it,
                                                  const std::vector<StageSigns>& signs) {
    while (it != photos.begin() && signs[static_cast<std::size_t>(it - photos.begin())].soon_after) {
        --it;
    }
    return it;
}

void set_by_order(std::vector<PartPhoto>& photos, const std::vector<StageSigns>& signs) {
    const auto later = std::find_if(photos.begin(), photos.end(), is_known_later);
    const auto bench =
        std::find_if(photos.begin(), photos.end(), [](const PartPhoto& p) { return p.on_bench; });
    // The last one known to be as-removed, before any other stage is known.
    const auto known = std::find_if(std::make_reverse_iterator(later), photos.rend(),
                                    [](const PartPhoto& p) { return p.stage == as_removed; });
    if (known != photos.rend()) {
        set_as_removed(photos, known.base(),
                       fmt::format("taken before {}, which shows it as removed", known->photo.number.text()));
    }
    if (later < bench) {
        set_as_removed(
            photos, start_of_sitting(photos, later, signs),
            fmt::format("taken before {}, which shows it {}", later->photo.number.text(), later->stage));
    } else if (bench != photos.end()) {
        set_as_removed(photos, bench,
                       fmt::format("taken before its first bench shot, {}", bench->photo.number.text()));
    } else {
        set_as_removed(photos, photos.end(), "it has not been on the bench yet");
    }
}

}  // namespace

void set_stages(std::vector<PartPhoto>& photos, const std::vector<StageSigns>& signs,
                const std::vector<PartStage>& said_of_part) {
    set_by_cards(photos, signs);
    set_by_person(photos);
    set_by_part(photos, said_of_part);
    set_by_order(photos, signs);
}

}  // namespace stripbook::book
