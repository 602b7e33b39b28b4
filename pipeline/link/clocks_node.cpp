#include "link/clocks_node.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>
#include <utility>

namespace stripbook::link {

namespace {

// A second is cut off both the shown time and the camera's (standard deviation 0.41 s); screens and shutters
// take their tenths.
constexpr double shot_u_s = 0.5;
constexpr double shot_by_file_time_u_s = 3;
// A picture that several cameras photographed stood still meanwhile.
constexpr double shared_shot_u_s = 30;

const book::Photo& photo_of(const ClockNode& node, std::size_t place) {
    return node.camera->photos[node.readings[place].photo];
}

using Places = std::map<book::PhotoNumber, std::size_t>;

Places places_of(const ClockNode& node) {
    Places places;
    for (std::size_t i = 0; i < node.readings.size(); ++i) {
        places.emplace(photo_of(node, i).number, i);
    }
    return places;
}

bool has_sub_seconds(const book::Photo& photo) {
    return photo.camera_time.text.find('.') != std::string::npos;
}

Anchor anchor_of(const ClockNode& node, std::size_t place, const ClockShot& shot, bool shown_to_several) {
    const ClockReading& reading = node.readings[place];
    // Both times are cut off to the second; where only the shown one is, it is half a second more on average.
    const double half_s = has_sub_seconds(photo_of(node, place)) ? 0.5 : 0;
    const bool by_exif = reading.basis == TimeBasis::exif;
    const double u_s = shown_to_several ? shared_shot_u_s : by_exif ? shot_u_s : shot_by_file_time_u_s;
    return {{reading.said_utc_s, reading.said_utc_s - shot.utc_s - half_s, u_s},
            place,
            false,
            "clock shot " + shot.photo.text()};
}

Anchor anchor_of(const ClockNode& node, std::size_t place, const book::ClockWord& word,
                 const Zone& workshop) {
    const ClockReading& reading = node.readings[place];
    const double shown_s = photo_of(node, place).camera_time.seconds;
    const double ahead_s = reading.basis == TimeBasis::exif
                               ? reading.said_utc_s - workshop.utc_of(shown_s - word.ahead_s).first_s
                               : word.ahead_s;
    return {{reading.said_utc_s, ahead_s, std::max(word.u_s, 0.1)},
            place,
            true,
            fmt::format("{}'s word at {}", word.who, word.photo.text())};
}

void sort_by_place(std::vector<Anchor>& anchors) {
    std::sort(anchors.begin(), anchors.end(), [](const Anchor& a, const Anchor& b) {
        return std::tie(a.place, a.source) < std::tie(b.place, b.source);
    });
}

// A picture that one camera photographed twice stood still: only the first time counts.
std::vector<Anchor> shots_in(const ClockNode& node, const Places& places,
                             const std::vector<std::string>& shown_to_several) {
    std::map<double, Anchor> first_of;
    for (const ClockShot& shot : node.camera->shots) {
        const auto place = places.find(shot.photo);
        if (place == places.end() || node.readings[place->second].basis == TimeBasis::file_time_alone) {
            continue;
        }
        const bool shared = std::binary_search(shown_to_several.begin(), shown_to_several.end(),
                                               std::to_string(std::llround(shot.utc_s)));
        const Anchor anchor = anchor_of(node, place->second, shot, shared);
        const auto [known, fresh] = first_of.emplace(shot.utc_s, anchor);
        if (!fresh && anchor.place < known->second.place) {
            known->second = anchor;
        }
    }
    std::vector<Anchor> anchors;
    for (const auto& [utc_s, anchor] : first_of) {
        anchors.push_back(anchor);
    }
    sort_by_place(anchors);
    return anchors;
}

// Pictures that stood still make the clock look ahead: one soon after a right one, or between two that agree.
void drop_stale(std::vector<Anchor>& shots) {
    constexpr double soon_s = 600;
    std::vector<Anchor> kept;
    for (std::size_t i = 0; i < shots.size(); ++i) {
        const ClockAnchor& here = shots[i].clock;
        const bool odd = !kept.empty() && !one_clock(kept.back().clock, here);
        const bool soon =
            odd && here.at_s - kept.back().clock.at_s < soon_s && here.ahead_s > kept.back().clock.ahead_s;
        const bool between = odd && i + 1 < shots.size() && one_clock(kept.back().clock, shots[i + 1].clock);
        if (!soon && !between) {
            kept.push_back(shots[i]);
        }
    }
    shots = kept;
}

std::vector<Anchor> words_in(const ClockNode& node, const Places& places, const Zone& workshop) {
    std::vector<Anchor> anchors;
    for (const book::ClockWord& word : node.camera->words) {
        if (const auto place = places.find(word.photo); place != places.end()) {
            anchors.push_back(anchor_of(node, place->second, word, workshop));
        }
    }
    sort_by_place(anchors);
    return anchors;
}

// The place between two anchors where the clock was most likely set: the longest pause. Everything between
// them is doubtful by what it was set by.
std::size_t part_between(ClockNode& node, const Anchor& before, const Anchor& after) {
    std::size_t best = after.place;
    double longest_s = -1;
    const double doubt_s = std::abs(after.clock.ahead_s - before.clock.ahead_s);
    for (std::size_t i = before.place + 1; i <= after.place; ++i) {
        const double pause_s = node.readings[i].said_utc_s - node.readings[i - 1].said_utc_s;
        if (pause_s > longest_s) {
            longest_s = pause_s;
            best = i;
        }
        if (i < after.place) {
            ClockReading& reading = node.readings[i];
            reading.doubt_s = std::hypot(reading.doubt_s, doubt_s);
            reading.note = "the clock was set unseen, here or near";
        }
    }
    return best;
}

ClockNode part(const ClockNode& node, std::size_t first, std::size_t last) {
    ClockNode piece = node;
    piece.readings.assign(node.readings.begin() + static_cast<std::ptrdiff_t>(first),
                          node.readings.begin() + static_cast<std::ptrdiff_t>(last));
    piece.anchors.clear();
    for (Anchor anchor : node.anchors) {
        if (anchor.place >= first && anchor.place < last) {
            anchor.place -= first;
            piece.anchors.push_back(anchor);
        }
    }
    if (first > 0) {
        piece.began = "the clock was set unseen: what is known of it before and after does not agree";
    }
    return piece;
}

std::vector<ClockNode> parted_by_anchors(ClockNode node) {
    std::vector<std::size_t> cuts{0};
    for (std::size_t i = 1; i < node.anchors.size(); ++i) {
        const Anchor &before = node.anchors[i - 1], &after = node.anchors[i];
        if (after.place > before.place && !one_clock(before.clock, after.clock)) {
            cuts.push_back(part_between(node, before, after));
        }
    }
    if (cuts.size() == 1) {
        return {std::move(node)};
    }
    cuts.push_back(node.readings.size());
    std::vector<ClockNode> pieces;
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
        pieces.push_back(part(node, cuts[i], cuts[i + 1]));
    }
    return pieces;
}

// Far from an anchor, on the other side of a change of summer time, a clock without UTC offsets may have been
// changed or not.
void doubt_summer_time(ClockNode& node, const Zone& workshop) {
    const bool told = std::any_of(node.readings.begin(), node.readings.end(),
                                  [](const ClockReading& r) { return !r.note.empty(); });
    if (node.utc_offsets || told || node.anchors.empty()) {
        return;
    }
    std::set<double> known;
    for (const Anchor& anchor : node.anchors) {
        known.insert(workshop.offset_s(anchor.clock.at_s));
    }
    for (ClockReading& reading : node.readings) {
        const double offset_s = workshop.offset_s(reading.said_utc_s);
        if (!known.contains(offset_s)) {
            reading.doubt_s = std::hypot(reading.doubt_s, offset_s - *known.begin());
            reading.note = "whether the clock was changed for summer time is not known";
        }
    }
}

std::string sources(const std::vector<Anchor>& anchors) {
    constexpr std::size_t most = 3;
    std::string words;
    for (std::size_t i = 0; i < std::min(anchors.size(), most); ++i) {
        words += (i == 0 ? "" : ", ") + anchors[i].source;
    }
    return anchors.size() > most ? fmt::format("{} and {} more", words, anchors.size() - most) : words;
}

void fit(ClockNode& node) {
    if (node.anchors.empty()) {
        return;
    }
    std::vector<ClockAnchor> anchors;
    for (const Anchor& anchor : node.anchors) {
        anchors.push_back(anchor.clock);
    }
    node.fit = ClockFit(anchors);
    node.measured = true;
    node.drifts = anchors.size() > 1 && anchors.back().at_s - anchors.front().at_s > 6 * 3600;
    node.how = sources(node.anchors);
}

// A person's word stands; a clock shot that says otherwise is told.
void tell_contradiction(ClockNode& node, const std::vector<Anchor>& shots) {
    for (const Anchor& shot : shots) {
        if (shot.place >= node.readings.size() || !node.fit) {
            continue;
        }
        const Ahead said = node.fit->at(shot.clock.at_s);
        const double allowed_s = 3 * std::hypot(said.u_s, shot.clock.u_s);
        if (std::abs(said.ahead_s - shot.clock.ahead_s) > allowed_s) {
            node.how += fmt::format("; {} says {} {}", shot.source, book::time_span_words(shot.clock.ahead_s),
                                    shot.clock.ahead_s < 0 ? "behind" : "ahead");
            return;
        }
    }
}

}  // namespace

std::vector<ClockNode> clock_nodes(const CameraEvidence& camera, const Zone& workshop,
                                   const std::vector<std::string>& shown_to_several) {
    ClockRun run = clock_run(camera.photos, workshop);
    std::vector<ClockNode> nodes;
    for (ClockStretch& stretch : run.stretches) {
        ClockNode node;
        node.camera = &camera;
        node.readings = std::move(stretch.readings);
        node.began = stretch.began;
        node.lost_time = stretch.lost_time;
        node.utc_offsets = run.utc_offsets;
        const Places places = places_of(node);
        auto shots = shots_in(node, places, shown_to_several);
        drop_stale(shots);
        const auto words = words_in(node, places, workshop);
        node.anchors = words.empty() ? shots : words;
        for (ClockNode& piece : parted_by_anchors(std::move(node))) {
            doubt_summer_time(piece, workshop);
            fit(piece);
            if (!words.empty() && piece.began == stretch.began) {
                tell_contradiction(piece, shots);
            }
            nodes.push_back(std::move(piece));
        }
    }
    return nodes;
}

}  // namespace stripbook::link
