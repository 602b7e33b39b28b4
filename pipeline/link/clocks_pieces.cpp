#include "link/clocks_pieces.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <optional>
#include <utility>

#include "book/cameras.h"
#include "book/clock.h"
#include "link/capture_chain.h"

namespace stripbook::link {

namespace {

constexpr double day_s = 86400;
constexpr double hour_s = 3600;

std::string day_words(double local_s) {
    return book::time_words(local_s).value_or("").substr(0, 10);
}

// Reads a clock's local times as UTC, place by place.
class LocalClock {
  public:
    LocalClock(const CaptureOrder& order, const Zone& workshop) : order_(order), zone_(workshop) {}

    // `jump_s` of the step to this place, 0 where the clock did not jump. Sets explained().
    ClockReading read(std::size_t place, double jump_s) {
        ClockReading reading;
        reading.basis = order_.basis[place];
        const double local_s = order_.time_s[place];
        if (order_.utc_offsets || reading.basis == TimeBasis::file_time_alone) {
            reading.said_utc_s = local_s;
            return reading;
        }
        const UtcOfLocal utc = zone_.utc_of(local_s);
        settle(place, jump_s, utc);
        reading.said_utc_s = on_old_offset_   ? local_s - old_offset_s_
                             : second_of_two_ ? utc.second_s
                                              : utc.first_s;
        if (on_old_offset_ && utc.first_s != reading.said_utc_s) {
            reading.note = "by winter time: the clock had not been put forward yet";
        }
        if (utc.twice && !second_of_two_ && !on_old_offset_) {
            reading.doubt_s = std::abs(utc.second_s - utc.first_s);
            reading.note = "this hour came twice that night";
        }
        return reading;
    }

    // Whether the step to the last place read was the clock being put back for winter time.
    [[nodiscard]] bool explained() const { return explained_; }

  private:
    void settle(std::size_t place, double jump_s, const UtcOfLocal& utc) {
        const double step_s = place == 0 ? 0 : order_.time_s[place] - order_.time_s[place - 1];
        if (on_old_offset_ && step_s >= hour_s - 60) {
            on_old_offset_ = false;  // time enough to have been put forward
        }
        if (utc.skipped) {
            on_old_offset_ = true;
            old_offset_s_ = order_.time_s[place] - utc.first_s;
        }
        explained_ = jump_s < 0 && jump_s >= -hour_s && utc.twice;
        second_of_two_ = utc.twice && (explained_ || second_of_two_);
    }

    const CaptureOrder& order_;
    const Zone& zone_;
    bool on_old_offset_ = false;  // clocks were put forward, this one was not yet
    double old_offset_s_ = 0;
    bool second_of_two_ = false;
    bool explained_ = false;
};

// A clock put back by an hour within weeks after everyone's was: until then it had shown summer time.
bool put_back_late(ClockStretch& stretch, double jump_s, const Zone& zone, double said_after_s) {
    constexpr double longest_forgotten_s = 60 * day_s;
    constexpr double longest_pause_s = 1200;
    const auto change = zone.last_change(said_after_s);
    const bool is_hour = change && jump_s >= change->after_s - change->before_s &&
                         jump_s <= change->after_s - change->before_s + longest_pause_s &&
                         change->after_s < change->before_s;
    if (!is_hour || said_after_s - change->utc_s > longest_forgotten_s) {
        return false;
    }
    for (ClockReading& reading : stretch.readings) {
        // What the clock said still counted by the offset before the change.
        const double by_old_s = reading.said_utc_s + change->after_s - change->before_s;
        if (by_old_s >= change->utc_s) {
            reading.said_utc_s = by_old_s;
            reading.note = fmt::format("by summer time: the clock was put back an hour after {}",
                                       day_words(change->utc_s + change->before_s));
        }
    }
    return true;
}

std::string began_words(double jump_s, const book::Photo& before, const book::Photo& first) {
    const std::string where = fmt::format("between {} and {}", before.number.text(), first.number.text());
    constexpr double reset_s = 30 * day_s;
    const std::string days = fmt::format("{:.0f} days", std::abs(jump_s) / day_s);
    if (jump_s < -reset_s) {
        return fmt::format("{} the clock lost its time: it fell back {} while the file counter went on",
                           where, days);
    }
    if (jump_s > reset_s) {
        return fmt::format("{} the clock was set again: it went on {} while the file counter went on by few",
                           where, days);
    }
    return fmt::format("{} the clock was set: it went {} {} while the file counter went on", where,
                       jump_s < 0 ? "back" : "on", book::time_span_words(jump_s));
}

// Where no counter tells: the camera began in the first days of a January years ago, and then it was set.
bool was_set_after_new_year(const ClockStretch& stretch, double said_s) {
    constexpr double year_s = 366 * day_s;
    constexpr double longest_lost_s = 30 * day_s;
    const double first_s = stretch.readings.front().said_utc_s;
    const double last_s = stretch.readings.back().said_utc_s;
    return is_new_year(first_s) && last_s - first_s < longest_lost_s && said_s - last_s > year_s;
}

// A clock that fell back more than a month shows nothing until it is set.
void tell_lost_times(std::vector<ClockStretch>& stretches) {
    constexpr double lost_s = 30 * day_s;
    constexpr double set_again_s = 180 * day_s;
    const auto first_s = [](const ClockStretch& s) { return s.readings.front().said_utc_s; };
    const auto last_s = [](const ClockStretch& s) { return s.readings.back().said_utc_s; };
    double latest_s = -HUGE_VAL;
    for (std::size_t i = 0; i < stretches.size(); ++i) {
        const bool set_later = i + 1 < stretches.size() && is_new_year(first_s(stretches[i])) &&
                               first_s(stretches[i + 1]) - last_s(stretches[i]) > set_again_s;
        stretches[i].lost_time = first_s(stretches[i]) < latest_s - lost_s || set_later;
        if (!stretches[i].lost_time) {
            latest_s = std::max(latest_s, last_s(stretches[i]));
        }
    }
}

}  // namespace

ClockRun clock_run(const std::vector<book::Photo>& photos, const Zone& workshop) {
    const CaptureOrder order = capture_order(photos);
    ClockRun run;
    run.utc_offsets = order.utc_offsets;
    run.rests_on = order.rests_on;
    LocalClock clock(order, workshop);
    auto jump = order.jumps.begin();
    for (std::size_t place = 0; place < order.order.size(); ++place) {
        const bool jumps = jump != order.jumps.end() && jump->place == place;
        const double jump_s = jumps ? jump->step_s : 0;
        jump += jumps ? 1 : 0;
        ClockReading reading = clock.read(place, jump_s);
        reading.photo = order.order[place];
        const bool explained =
            jumps && (clock.explained() || (!run.utc_offsets && put_back_late(run.stretches.back(), jump_s,
                                                                              workshop, reading.said_utc_s)));
        if (place == 0) {
            run.stretches.emplace_back();
        } else if (jumps && !explained) {
            run.stretches.emplace_back();
            run.stretches.back().began =
                began_words(jump_s, photos[order.order[place - 1]], photos[reading.photo]);
        } else if (!jumps && was_set_after_new_year(run.stretches.back(), reading.said_utc_s)) {
            run.stretches.emplace_back();
            run.stretches.back().began = "the clock was set, at a moment that no file counter tells";
        }
        if (jumps && explained) {
            reading.note = "the clock was put back for winter time here";
        }
        run.stretches.back().readings.push_back(std::move(reading));
    }
    tell_lost_times(run.stretches);
    return run;
}

}  // namespace stripbook::link
