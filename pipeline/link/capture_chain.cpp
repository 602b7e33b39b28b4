#include "link/capture_chain.h"

#include <algorithm>
#include <cctype>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>

namespace stripbook::link {

namespace {

constexpr int counter_period = 9999;      // CIPA DC-009: 0001 to 9999
constexpr double least_step_back_s = 30;  // bursts and slow writing stay below
constexpr double day_s = 86400;
constexpr double half_a_year_s = 180 * day_s;
constexpr int next_card_counters = 3;  // a camera that goes on counting on the next card leaves none out

// A place in the counting of one camera: of one card, or of all of them.
struct Key {
    std::int64_t run = 0;
    int directory = 0;
    int counter = 0;
    auto operator<=>(const Key&) const = default;
};

struct Link {
    Key key;
    std::size_t place = 0;
};

using Chain = std::vector<Link>;

// A card that crosses the roll-over within one folder holds both ends of the counting and nothing between.
bool rolls_over(const std::vector<int>& counters) {
    constexpr int near_the_end = 100;
    constexpr int widest_card = 9000;
    int widest = 0;
    for (std::size_t i = 1; i < counters.size(); ++i) {
        widest = std::max(widest, counters[i] - counters[i - 1]);
    }
    return counters.front() <= near_the_end && counters.back() > counter_period - near_the_end &&
           widest > counter_period - widest_card;
}

void unroll(Chain& chain) {
    std::map<std::pair<std::int64_t, int>, std::vector<int>> folders;
    for (const Link& link : chain) {
        folders[{link.key.run, link.key.directory}].push_back(link.key.counter);
    }
    std::map<std::pair<std::int64_t, int>, int> first_of;  // counters below it belong behind 9999
    for (auto& [folder, counters] : folders) {
        std::sort(counters.begin(), counters.end());
        if (!rolls_over(counters)) {
            continue;
        }
        const auto after_gap = std::adjacent_find(counters.begin(), counters.end(),
                                                  [](int a, int b) { return b - a > counter_period / 2; });
        if (after_gap != counters.end()) {
            first_of[folder] = *std::next(after_gap);
        }
    }
    for (Link& link : chain) {
        const auto first = first_of.find({link.key.run, link.key.directory});
        if (first != first_of.end() && link.key.counter < first->second) {
            link.key.counter += counter_period;
        }
    }
}

enum class Counting { by_folder, by_counter_alone, by_card };

Chain chain_of(const std::vector<CaptureReading>& readings, Counting counting) {
    Chain chain;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const CaptureReading& r = readings[i];
        if (r.counter > 0) {
            chain.push_back({{counting == Counting::by_card ? r.dump : 0,
                              counting == Counting::by_counter_alone ? 0 : r.directory, r.counter},
                             i});
        }
    }
    unroll(chain);
    std::sort(chain.begin(), chain.end(), [&](const Link& a, const Link& b) {
        const auto &ra = readings[a.place], &rb = readings[b.place];
        return std::tie(a.key, ra.time_s, ra.number) < std::tie(b.key, rb.time_s, rb.number);
    });
    return chain;
}

// Cards whose counting restarts are told apart by their times: later ones follow.
void order_runs(Chain& chain, const std::vector<CaptureReading>& readings) {
    std::map<std::int64_t, double> last_s;
    for (const Link& link : chain) {
        const auto [it, fresh] = last_s.emplace(link.key.run, readings[link.place].time_s);
        it->second = std::max(it->second, readings[link.place].time_s);
    }
    std::stable_sort(chain.begin(), chain.end(), [&](const Link& a, const Link& b) {
        return std::tuple(last_s[a.key.run], a.key.run) < std::tuple(last_s[b.key.run], b.key.run);
    });
}

bool step_is_followed(const Key& before, const Key& after) {
    const int wrapped = after.counter + (after.directory > before.directory ? counter_period : 0);
    return wrapped - before.counter <= next_card_counters ||
           after.counter - before.counter <= next_card_counters;
}

struct Judged {
    std::vector<std::size_t> jumps;  // places in the chain of the first photo after each
    bool credible = true;
};

// A copy that a camera made later of a photo (trimmed, retouched) keeps that photo's time: it stands alone
// between photos whose times go on.
bool is_late_copy(const std::vector<double>& times, std::size_t at,
                  const std::map<double, std::size_t>& first_at) {
    constexpr std::size_t burst = 30;
    const auto original = first_at.find(times[at]);
    const bool goes_on = at + 1 < times.size() && at > 0 && times[at + 1] >= times[at - 1];
    return goes_on && original != first_at.end() && original->second + burst < at;
}

class Judge {
  public:
    Judge(const Chain& chain, const std::vector<CaptureReading>& readings) {
        for (const Link& link : chain) {
            if (readings[link.place].timed) {
                timed_.push_back(times_.size());
            }
            times_.push_back(readings[link.place].time_s);
            first_at_.emplace(times_.back(), times_.size() - 1);
            links_.push_back(&link);
            dumps_.push_back(readings[link.place].dump);
        }
    }

    Judged operator()() {
        Judged judged;
        std::optional<std::size_t> before;
        for (const std::size_t at : timed_) {
            if (is_late_copy(times_, at, first_at_)) {
                continue;
            }
            if (before && is_jump(*before, at)) {
                judged.jumps.push_back(at);
                judged.credible = judged.credible && card_goes_on(*before, at);
            }
            before = at;
        }
        // Where the counter does not follow the time, it is no counter.
        constexpr std::size_t photos_a_jump = 8;
        judged.credible =
            judged.credible && backward_ <= std::max<std::size_t>(1, times_.size() / photos_a_jump);
        return judged;
    }

  private:
    bool is_jump(std::size_t before, std::size_t at) {
        if (links_[before]->key.run != links_[at]->key.run) {
            return false;
        }
        const double step_s = times_[at] - times_[before];
        if (step_s < -least_step_back_s) {
            // A clock that lost its time is no doubt about the counter, however short the card.
            if (!(step_s < -half_a_year_s && is_new_year(times_[at]))) {
                ++backward_;
            }
            lost_ = step_s < -day_s ? std::optional(before) : std::nullopt;
            return true;
        }
        if (lost_ && times_[at] >= times_[*lost_] && step_s > (times_[*lost_] - times_[before]) / 2) {
            lost_.reset();
            return true;
        }
        return is_set_after_a_reset(before, at);
    }

    // The counting begins with a clock that lost its time, and then it was set.
    [[nodiscard]] bool is_set_after_a_reset(std::size_t before, std::size_t at) const {
        return times_[at] - times_[before] > half_a_year_s && is_new_year(times_[timed_.front()]) &&
               times_[before] - times_[timed_.front()] < 30 * day_s &&
               step_is_followed(links_[before]->key, links_[at]->key);
    }

    [[nodiscard]] bool card_goes_on(std::size_t before, std::size_t at) const {
        return dumps_[before] == dumps_[at] || step_is_followed(links_[before]->key, links_[at]->key);
    }

    std::vector<double> times_;
    std::vector<std::size_t> timed_;
    std::map<double, std::size_t> first_at_;
    std::vector<const Link*> links_;
    std::vector<std::int64_t> dumps_;
    std::optional<std::size_t> lost_;  // the last photo before the clock went back by more than a day
    std::size_t backward_ = 0;
};

// Two photos of one number are one shot stored twice (raw and JPEG); else the counting restarted.
bool numbers_are_told_once(const Chain& chain, const std::vector<CaptureReading>& readings) {
    constexpr double one_shot_s = 5;
    return std::adjacent_find(chain.begin(), chain.end(), [&](const Link& a, const Link& b) {
               return a.key == b.key &&
                      std::abs(readings[a.place].time_s - readings[b.place].time_s) > one_shot_s;
           }) == chain.end();
}

CaptureChain in_pieces(const Chain& chain, const std::vector<std::size_t>& jumps, std::size_t photos) {
    CaptureChain out;
    out.piece.assign(photos, -1);
    out.pieces = static_cast<int>(jumps.size()) + 1;
    std::size_t passed = 0;
    for (std::size_t i = 0; i < chain.size(); ++i) {
        while (passed < jumps.size() && jumps[passed] <= i) {
            ++passed;
        }
        out.places.push_back(chain[i].place);
        out.piece[chain[i].place] = static_cast<int>(passed);
    }
    return out;
}

bool name_comes_first(const std::string& a, const std::string& b) {
    const auto digit = [](char c) { return c >= '0' && c <= '9'; };
    std::size_t i = 0;
    std::size_t j = 0;
    while (i < a.size() && j < b.size()) {
        if (!digit(a[i]) || !digit(b[j])) {
            if (a[i] != b[j]) {
                return a[i] < b[j];
            }
            ++i;
            ++j;
            continue;
        }
        const auto number_at = [&](const std::string& text, std::size_t& at) {
            at = std::min(text.find_first_not_of('0', at), text.size());
            const std::size_t first = at;
            while (at < text.size() && digit(text[at])) {
                ++at;
            }
            return text.substr(first, at - first);
        };
        const std::string left = number_at(a, i);
        const std::string right = number_at(b, j);
        if (left != right) {
            return left.size() != right.size() ? left.size() < right.size() : left < right;
        }
    }
    return a.size() - i < b.size() - j;
}

}  // namespace

bool is_new_year(double time_s) {
    constexpr double year_s = 365.2425 * day_s;
    constexpr double slack_s = 3 * day_s;  // leap years move the first of January by up to a day and a half
    const double into_year_s = time_s - std::floor(time_s / year_s) * year_s;
    return into_year_s < slack_s || into_year_s > year_s - slack_s / 2;
}

bool comes_first_at_one_time(const CaptureReading& a, const CaptureReading& b) {
    if (std::tie(a.directory, a.counter, a.file_time_s) != std::tie(b.directory, b.counter, b.file_time_s)) {
        return std::tie(a.directory, a.counter, a.file_time_s) <
               std::tie(b.directory, b.counter, b.file_time_s);
    }
    if (name_comes_first(a.name, b.name) != name_comes_first(b.name, a.name)) {
        return name_comes_first(a.name, b.name);
    }
    return a.number < b.number;
}

CaptureChain capture_chain(const std::vector<CaptureReading>& readings) {
    std::optional<CaptureChain> best;
    for (const Counting counting : {Counting::by_folder, Counting::by_counter_alone}) {
        const Chain chain = chain_of(readings, counting);
        const Judged judged = Judge(chain, readings)();
        const int pieces = static_cast<int>(judged.jumps.size()) + 1;
        if (judged.credible && numbers_are_told_once(chain, readings) && (!best || pieces < best->pieces)) {
            best = in_pieces(chain, judged.jumps, readings.size());
        }
    }
    if (best) {
        return *best;
    }
    Chain chain = chain_of(readings, Counting::by_card);
    order_runs(chain, readings);
    const Judged judged = Judge(chain, readings)();
    return judged.credible ? in_pieces(chain, judged.jumps, readings.size())
                           : in_pieces({}, {}, readings.size());
}

}  // namespace stripbook::link
