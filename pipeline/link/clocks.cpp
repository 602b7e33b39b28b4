#include "link/clocks.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "link/capture_chain.h"
#include "link/clocks_node.h"

namespace stripbook::link {

namespace {

// Of a clock that nobody checked (common practice, no source): minutes, and an hour where even the zone is a
// guess.
constexpr double unchecked_u_s = 600;
constexpr double unchecked_zone_u_s = 3600;
constexpr double file_time_u_s = 2;  // FAT keeps every other second

using Nodes = std::vector<ClockNode>;

std::vector<std::string> shown_to_several(const std::vector<CameraEvidence>& cameras) {
    std::map<std::string, std::set<book::CameraId>> seen_by;
    for (const auto& camera : cameras) {
        for (const auto& shot : camera.shots) {
            seen_by[std::to_string(std::llround(shot.utc_s))].insert(camera.camera);
        }
    }
    std::vector<std::string> texts;
    for (const auto& [text, seen] : seen_by) {
        if (seen.size() > 1) {
            texts.push_back(text);
        }
    }
    return texts;
}

double first_said(const ClockNode& node) {
    return node.readings.front().said_utc_s;
}

double last_said(const ClockNode& node) {
    return node.readings.back().said_utc_s;
}

// A camera that shows the first days of a past year, while others are years further on, has lost its time.
void tell_lost_times(Nodes& nodes) {
    constexpr double year_s = 365 * 86400.0;
    double latest_s = -HUGE_VAL;
    for (const ClockNode& node : nodes) {
        latest_s = std::max(latest_s, last_said(node));
    }
    for (ClockNode& node : nodes) {
        node.lost_time = node.lost_time || (is_new_year(first_said(node)) && is_new_year(last_said(node)) &&
                                            last_said(node) < latest_s - year_s);
    }
}

void take_as_right(ClockNode& node) {
    if (node.fit || node.lost_time) {
        return;
    }
    node.fit = ClockFit(Ahead{0, node.utc_offsets ? unchecked_u_s : unchecked_zone_u_s});
    node.how = node.utc_offsets ? "the clock as it is, never checked"
                                : "the clock as it is, never checked, taken to show the workshop's time";
}

std::vector<TagMoment> moments_of(const ClockNode& node,
                                  const std::multimap<book::PhotoNumber, std::string>& tags,
                                  bool in_true_time) {
    std::vector<TagMoment> moments;
    for (const ClockReading& reading : node.readings) {
        const auto [first, last] = tags.equal_range(node.camera->photos[reading.photo].number);
        const double ahead_s = in_true_time ? node.fit->at(reading.said_utc_s).ahead_s : 0;
        for (auto tag = first; tag != last; ++tag) {
            moments.push_back({tag->second, reading.said_utc_s - ahead_s});
        }
    }
    return moments;
}

// The cameras whose tags tell the others the time: those that were checked; without any, the one with UTC
// offsets, and of several the one with most photos.
std::vector<bool> known_first(const Nodes& nodes) {
    std::vector<bool> known(nodes.size());
    std::transform(nodes.begin(), nodes.end(), known.begin(), [](const ClockNode& n) { return n.measured; });
    if (nodes.empty() || std::any_of(known.begin(), known.end(), [](bool k) { return k; })) {
        return known;
    }
    const auto rank = [](const ClockNode& n) {
        return std::tuple(!n.lost_time, n.utc_offsets, n.camera->photos.size(),
                          n.camera->photos[n.readings.front().photo].camera_words);
    };
    const auto best =
        std::max_element(nodes.begin(), nodes.end(),
                         [&](const ClockNode& a, const ClockNode& b) { return rank(a) < rank(b); });
    for (std::size_t i = 0; i < nodes.size(); ++i) {
        known[i] = nodes[i].camera == best->camera && !nodes[i].lost_time;
    }
    return known;
}

// Compares clocks by the tags they saw.
class TagClocks {
  public:
    explicit TagClocks(Nodes& nodes) : nodes_(nodes), known_(known_first(nodes)) {
        for (const ClockNode& node : nodes) {
            if (seen_.insert(node.camera).second) {
                for (const TagSeen& seen : node.camera->tags) {
                    tags_.emplace(seen.photo, seen.tag);
                }
            }
        }
        for (std::size_t i = 0; i < nodes.size(); ++i) {
            if (known_[i]) {
                learn(i);
            }
        }
        checked_ = std::any_of(nodes.begin(), nodes.end(), [](const ClockNode& n) { return n.measured; });
    }

    void run() {
        while (const auto best = surest()) {
            set(best->first, best->second);
            known_[best->first] = true;
            learn(best->first);
        }
    }

  private:
    using Found = std::pair<std::size_t, BetweenClocks>;

    void learn(std::size_t i) {
        const auto moments = moments_of(nodes_[i], tags_, true);
        known_moments_.insert(known_moments_.end(), moments.begin(), moments.end());
        known_u_s_ = std::max(known_u_s_, nodes_[i].fit->at(last_said(nodes_[i])).u_s);
    }

    [[nodiscard]] std::optional<Found> surest() const {
        std::optional<Found> best;
        for (std::size_t i = 0; i < nodes_.size(); ++i) {
            if (known_[i]) {
                continue;
            }
            const auto found = ahead_of_other(moments_of(nodes_[i], tags_, false), known_moments_);
            if (found && (!best || found->ahead.u_s < best->second.ahead.u_s)) {
                best = Found{i, *found};
            }
        }
        return best;
    }

    void set(std::size_t i, const BetweenClocks& found) {
        ClockNode& node = nodes_[i];
        // Among clocks that nobody checked, one that does not clearly differ is left as it is.
        const bool agrees =
            !checked_ && !node.lost_time && std::abs(found.ahead.ahead_s) <= 2 * found.ahead.u_s;
        const double u_s = std::hypot(found.ahead.u_s, known_u_s_);
        node.fit = ClockFit(Ahead{agrees ? 0 : found.ahead.ahead_s, u_s});
        node.measured = true;
        node.how = fmt::format("{} tags that another camera photographed in the same minutes{}", found.tags,
                               checked_ ? "" : "; no clock was checked");
    }

    Nodes& nodes_;
    std::vector<bool> known_;
    std::set<const CameraEvidence*> seen_;
    std::multimap<book::PhotoNumber, std::string> tags_;
    std::vector<TagMoment> known_moments_;
    double known_u_s_ = 0;
    bool checked_ = false;
};

// Half the time to the next photo that has a time of its own, for those that stand by their counter.
std::vector<double> counter_doubts(const ClockNode& node) {
    std::vector<double> doubts(node.readings.size(), 0);
    double next_s = HUGE_VAL;
    for (std::size_t i = node.readings.size(); i-- > 0;) {
        const ClockReading& reading = node.readings[i];
        if (reading.basis == TimeBasis::counter) {
            doubts[i] = std::isinf(next_s) ? unchecked_u_s : std::max(1.0, (next_s - reading.said_utc_s) / 2);
        } else {
            next_s = reading.said_utc_s;
        }
    }
    return doubts;
}

std::string basis_words(TimeBasis basis) {
    switch (basis) {
        case TimeBasis::counter:
            return "; no EXIF time, so its place by the file counter";
        case TimeBasis::file_time:
        case TimeBasis::file_time_alone:
            return "; no EXIF time, so its file time";
        default:
            return "";
    }
}

book::TrueTime known_time(const ClockNode& node, const ClockReading& reading, double counter_doubt_s,
                          const Zone& workshop) {
    const bool alone = reading.basis == TimeBasis::file_time_alone && !node.measured;
    const Ahead ahead = node.fit->at(reading.said_utc_s);
    const double file_u_s = reading.basis == TimeBasis::file_time ? file_time_u_s : 0;
    book::TrueTime time;
    time.photo = node.camera->photos[reading.photo].number;
    time.utc_s = reading.said_utc_s - ahead.ahead_s;
    time.u_s = std::hypot(std::hypot(ahead.u_s, reading.doubt_s), std::hypot(file_u_s, counter_doubt_s));
    time.corrected_s = workshop.local_s(*time.utc_s);
    time.how =
        alone ? "its file time: the camera wrote none; the zone of file times is not sure"
              : node.how + basis_words(reading.basis) + (reading.note.empty() ? "" : "; " + reading.note);
    return time;
}

void add_known(const ClockNode& node, const Zone& workshop, std::vector<book::TrueTime>& times) {
    const auto doubts = counter_doubts(node);
    for (std::size_t i = 0; i < node.readings.size(); ++i) {
        times.push_back(known_time(node, node.readings[i], doubts[i], workshop));
    }
}

// The photos before and after a stretch whose clock says nothing: local times and words.
struct Bounds {
    double after_s = -HUGE_VAL;
    double before_s = HUGE_VAL;
    std::string words;
};

// Places the stretch for ordering only: behind what came before it, in its own pace where that fits.
void add_unknown(const ClockNode& node, const Bounds& bounds, std::vector<book::TrueTime>& times) {
    double low_s = first_said(node);
    double high_s = low_s;
    for (const auto& reading : node.readings) {
        low_s = std::min(low_s, reading.said_utc_s);
        high_s = std::max(high_s, reading.said_utc_s);
    }
    const double span_s = high_s - low_s;
    const bool after = !std::isinf(bounds.after_s);
    const bool before = !std::isinf(bounds.before_s);
    const double room_s = bounds.before_s - bounds.after_s;
    const double pace = after && before && room_s < span_s + 2 ? std::max(room_s, 0.0) / (span_s + 2) : 1;
    const double start_s = after ? bounds.after_s + pace : before ? bounds.before_s - span_s - 1 : low_s;
    for (const auto& reading : node.readings) {
        times.push_back({node.camera->photos[reading.photo].number,
                         start_s + pace * (reading.said_utc_s - low_s), std::nullopt, std::nullopt,
                         "time not known: the camera's clock had lost its time" + bounds.words});
    }
}

// All nodes of one camera, in capture order.
void add_times(const Nodes& nodes, std::size_t first, std::size_t last, const Zone& workshop,
               std::vector<book::TrueTime>& times) {
    Bounds bounds;
    std::string after_words;
    for (std::size_t i = first; i < last; ++i) {
        const ClockNode& node = nodes[i];
        if (node.fit) {
            add_known(node, workshop, times);
        } else {
            const auto next = std::find_if(nodes.begin() + static_cast<std::ptrdiff_t>(i),
                                           nodes.begin() + static_cast<std::ptrdiff_t>(last),
                                           [](const ClockNode& n) { return n.fit.has_value(); });
            bounds.words = after_words;
            bounds.before_s = HUGE_VAL;
            if (next != nodes.begin() + static_cast<std::ptrdiff_t>(last)) {
                const double said_s = first_said(*next);
                bounds.before_s = workshop.local_s(said_s - next->fit->at(said_s).ahead_s);
                bounds.words +=
                    "; before " + next->camera->photos[next->readings.front().photo].number.text();
            }
            add_unknown(node, bounds, times);
        }
        bounds.after_s = times.back().corrected_s;
        if (node.fit) {
            after_words = "; after " + times.back().photo.text();
        }
    }
}

book::ClockPiece piece_of(const ClockNode& node, int number) {
    book::ClockPiece piece;
    piece.camera = node.camera->camera;
    piece.number = number;
    piece.first_photo = node.camera->photos[node.readings.front().photo].number;
    piece.last_photo = node.camera->photos[node.readings.back().photo].number;
    piece.began = node.began;
    piece.how = node.fit ? node.how : "not known: the clock had lost its time";
    if (node.fit) {
        const Ahead ahead = node.fit->at(last_said(node));
        piece.ahead_s = ahead.ahead_s;
        piece.u_s = ahead.u_s;
    }
    if (node.drifts) {
        piece.drift_s_per_day = node.fit->drift_s_per_day();
    }
    return piece;
}

}  // namespace

Clocks true_times(const std::vector<CameraEvidence>& cameras, const Zone& workshop) {
    std::vector<const CameraEvidence*> by_number;
    for (const auto& camera : cameras) {
        if (!camera.photos.empty()) {
            by_number.push_back(&camera);
        }
    }
    std::sort(by_number.begin(), by_number.end(),
              [](const auto* a, const auto* b) { return a->camera < b->camera; });
    const auto shared = shown_to_several(cameras);
    Nodes nodes;
    for (const CameraEvidence* camera : by_number) {
        for (ClockNode& node : clock_nodes(*camera, workshop, shared)) {
            nodes.push_back(std::move(node));
        }
    }
    tell_lost_times(nodes);
    std::for_each(nodes.begin(), nodes.end(), take_as_right);
    TagClocks(nodes).run();
    Clocks clocks;
    for (std::size_t first = 0; first < nodes.size();) {
        std::size_t last = first;
        for (; last < nodes.size() && nodes[last].camera == nodes[first].camera; ++last) {
            clocks.pieces.push_back(piece_of(nodes[last], static_cast<int>(last - first) + 1));
        }
        add_times(nodes, first, last, workshop, clocks.times);
        first = last;
    }
    std::sort(clocks.times.begin(), clocks.times.end(),
              [](const book::TrueTime& a, const book::TrueTime& b) { return a.photo < b.photo; });
    return clocks;
}

}  // namespace stripbook::link
