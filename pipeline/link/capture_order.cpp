#include "link/capture_order.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <limits>
#include <map>
#include <numeric>
#include <optional>
#include <tuple>

#include "link/capture_chain.h"
#include "link/clocks_zone.h"

namespace stripbook::link {

namespace {

using book::Photo;
using Readings = std::vector<CaptureReading>;

// DCF counts 0001 to 9999 and starts again (CIPA DC-009).
constexpr int counter_period = 9999;

// The offset of most photos, for those of the same camera that do not say theirs.
double usual_offset_s(const std::vector<Photo>& photos) {
    std::map<double, int> count;
    for (const Photo& photo : photos) {
        if (const auto offset = seconds_of_offset(photo.camera_time.utc_offset)) {
            ++count[*offset];
        }
    }
    const auto most = std::max_element(count.begin(), count.end(),
                                       [](const auto& a, const auto& b) { return a.second < b.second; });
    return most == count.end() ? 0 : most->first;
}

// By card: what the camera's time differs from the file time, where it always differs by the same.
std::map<book::DumpId, double> shifts_from_file_time(const Readings& readings) {
    constexpr double tolerance_s = 10;
    std::map<book::DumpId, std::vector<double>> seen;
    for (const auto& r : readings) {
        if (r.timed) {
            seen[{r.dump}].push_back(r.time_s - r.file_time_s);
        }
    }
    std::map<book::DumpId, double> shifts;
    for (auto& [dump, list] : seen) {
        std::sort(list.begin(), list.end());
        if (list.back() - list.front() <= tolerance_s) {
            shifts[dump] = list[list.size() / 2];
        }
    }
    return shifts;
}

// In the order of the photo numbers, so that the order handed in makes no difference.
Readings readings_of(const std::vector<Photo>& photos) {
    const double usual_s = usual_offset_s(photos);
    Readings readings;
    for (std::size_t i = 0; i < photos.size(); ++i) {
        const Photo& p = photos[i];
        const double offset_s = seconds_of_offset(p.camera_time.utc_offset).value_or(usual_s);
        readings.push_back({i, p.camera_time.seconds - offset_s, has_camera_time(p), p.dump.value,
                            p.dcf_directory, p.dcf_counter, p.file_time_s, p.name_on_card, p.number.value});
    }
    std::sort(readings.begin(), readings.end(),
              [](const CaptureReading& a, const CaptureReading& b) { return a.number < b.number; });
    const auto shifts = shifts_from_file_time(readings);
    for (auto& r : readings) {
        const auto shift = shifts.find({r.dump});
        if (!r.timed && shift != shifts.end()) {
            r.time_s = r.file_time_s + shift->second;
            r.by_shift = true;
        }
    }
    return readings;
}

// Where the counter places a photo without an EXIF time among those with one, its time is that of the one
// before (or else after) it.
std::vector<bool> place_untimed(Readings& readings, const CaptureChain& chain) {
    std::vector<bool> placed(readings.size(), false);
    const auto pass = [&](auto first, auto last) {
        const CaptureReading* before = nullptr;
        for (auto it = first; it != last; ++it) {
            CaptureReading& r = readings[*it];
            if (r.timed) {
                before = &r;
            } else if (before != nullptr && !placed[*it] &&
                       chain.piece[*it] == chain.piece[static_cast<std::size_t>(before - readings.data())]) {
                r.time_s = before->time_s;
                placed[*it] = true;
            }
        }
    };
    pass(chain.places.begin(), chain.places.end());
    pass(chain.places.rbegin(), chain.places.rend());
    return placed;
}

struct Span {
    double first_s = std::numeric_limits<double>::infinity();
    double last_s = -std::numeric_limits<double>::infinity();
};

// The piece of a photo that the counter does not place: the one whose times hold its own, or come nearest;
// of several the last.
int piece_by_time(double time_s, const std::vector<Span>& spans) {
    int best = 0;
    double least_s = std::numeric_limits<double>::infinity();
    for (std::size_t i = 0; i < spans.size(); ++i) {
        const double away_s = std::max({0.0, spans[i].first_s - time_s, time_s - spans[i].last_s});
        if (away_s <= least_s) {
            least_s = away_s;
            best = static_cast<int>(i);
        }
    }
    return best;
}

void complete_pieces(const Readings& readings, CaptureChain& chain) {
    std::vector<Span> spans(static_cast<std::size_t>(chain.pieces));
    for (std::size_t i = 0; i < readings.size(); ++i) {
        if (chain.piece[i] >= 0) {
            Span& span = spans[static_cast<std::size_t>(chain.piece[i])];
            span.first_s = std::min(span.first_s, readings[i].time_s);
            span.last_s = std::max(span.last_s, readings[i].time_s);
        }
    }
    for (std::size_t i = 0; i < readings.size(); ++i) {
        if (chain.piece[i] < 0) {
            chain.piece[i] = piece_by_time(readings[i].time_s, spans);
        }
    }
}

// Photos of one moment that cross the roll-over hold high and low counters in one folder; they start behind
// the widest gap on the counter's circle.
void start_behind_widest_gap(std::vector<std::size_t>::iterator first,
                             std::vector<std::size_t>::iterator last, const Readings& readings) {
    const auto counter = [&](auto it) { return readings[*it].counter; };
    if (readings[*first].directory != readings[*std::prev(last)].directory || counter(first) == 0) {
        return;
    }
    int widest = counter(first) + counter_period - counter(std::prev(last));
    auto start = first;
    for (auto it = std::next(first); it != last; ++it) {
        if (counter(it) - counter(std::prev(it)) > widest) {
            widest = counter(it) - counter(std::prev(it));
            start = it;
        }
    }
    std::rotate(first, start, last);
}

std::vector<std::size_t> sorted(const Readings& readings, const std::vector<int>& piece) {
    std::vector<std::size_t> order(readings.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        const auto &ra = readings[a], &rb = readings[b];
        if (std::tie(piece[a], ra.time_s) != std::tie(piece[b], rb.time_s)) {
            return std::tie(piece[a], ra.time_s) < std::tie(piece[b], rb.time_s);
        }
        return comes_first_at_one_time(ra, rb);
    });
    for (auto first = order.begin(); first != order.end();) {
        const auto last = std::find_if(first, order.end(), [&](std::size_t i) {
            return piece[i] != piece[*first] || readings[i].time_s != readings[*first].time_s;
        });
        start_behind_widest_gap(first, last, readings);
        first = last;
    }
    return order;
}

std::string photos_word(std::size_t count) {
    return count == 1 ? "1 photo" : fmt::format("{} photos", count);
}

std::string rests_on(const std::vector<Photo>& photos, const Readings& readings,
                     const std::vector<bool>& placed, int pieces) {
    std::size_t timed = 0;
    std::size_t by_counter = 0;
    std::size_t numbered = 0;
    bool sub_seconds = false;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        timed += readings[i].timed ? 1 : 0;
        numbered += readings[i].counter > 0 ? 1 : 0;
        by_counter += placed[i] ? 1 : 0;
        sub_seconds =
            sub_seconds ||
            (readings[i].timed && photos[readings[i].index].camera_time.text.find('.') != std::string::npos);
    }
    std::string words = timed == 0 ? "" : sub_seconds ? "EXIF times with sub-seconds" : "EXIF times";
    const auto add = [&](const std::string& more) { words += (words.empty() ? "" : "; ") + more; };
    if (numbered > 0) {
        add("then file counters");
    }
    if (by_counter > 0) {
        add(fmt::format("{} without an EXIF time by their file counters", photos_word(by_counter)));
    }
    if (const std::size_t rest = readings.size() - timed - by_counter; rest > 0) {
        add(fmt::format("{} without an EXIF time by their file times, then names", photos_word(rest)));
    }
    if (numbered < readings.size() && numbered > 0) {
        add(fmt::format("{} without a counter in the name", photos_word(readings.size() - numbered)));
    }
    if (pieces > 1) {
        add(fmt::format("across {} of the clock by the counter", pieces == 2 ? "a jump" : "jumps"));
    }
    return words;
}

TimeBasis basis_of(const CaptureReading& reading, bool placed_by_counter) {
    if (reading.timed) {
        return TimeBasis::exif;
    }
    return placed_by_counter  ? TimeBasis::counter
           : reading.by_shift ? TimeBasis::file_time
                              : TimeBasis::file_time_alone;
}

}  // namespace

bool has_camera_time(const Photo& photo) {
    return photo.camera_time.source != "file time";
}

CaptureOrder capture_order(const std::vector<Photo>& photos) {
    Readings readings = readings_of(photos);
    CaptureChain chain = capture_chain(readings);
    const std::vector<bool> placed = place_untimed(readings, chain);
    complete_pieces(readings, chain);
    CaptureOrder out;
    const auto order = sorted(readings, chain.piece);
    for (std::size_t place = 0; place < order.size(); ++place) {
        if (place > 0 && chain.piece[order[place]] != chain.piece[order[place - 1]]) {
            out.jumps.push_back({place, readings[order[place]].time_s - readings[order[place - 1]].time_s});
        }
        out.order.push_back(readings[order[place]].index);
        out.time_s.push_back(readings[order[place]].time_s);
        out.basis.push_back(basis_of(readings[order[place]], placed[order[place]]));
    }
    out.utc_offsets = std::any_of(photos.begin(), photos.end(), [](const Photo& p) {
        return seconds_of_offset(p.camera_time.utc_offset).has_value();
    });
    out.rests_on = rests_on(photos, readings, placed, chain.pieces);
    return out;
}

std::vector<Photo> in_capture_order(std::vector<Photo> photos) {
    const CaptureOrder found = capture_order(photos);
    std::vector<Photo> ordered;
    ordered.reserve(photos.size());
    for (const std::size_t place : found.order) {
        ordered.push_back(std::move(photos[place]));
    }
    return ordered;
}

}  // namespace stripbook::link
