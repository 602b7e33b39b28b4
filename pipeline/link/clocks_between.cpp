#include "link/clocks_between.h"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <map>

namespace stripbook::link {

namespace {

constexpr double window_s = 300;
constexpr std::size_t most_moments_of_a_tag = 20;

struct Difference {
    double seconds = 0;
    std::size_t tag = 0;
};

using Moments = std::map<std::string, std::vector<double>>;

// Few of each tag, evenly: a burst says no more than one photo.
Moments few_of_each(const std::vector<TagMoment>& list) {
    constexpr double burst_s = 20;
    Moments moments;
    for (const auto& m : list) {
        moments[m.tag].push_back(m.at_s);
    }
    for (auto& [tag, times] : moments) {
        std::sort(times.begin(), times.end());
        std::vector<double> kept;
        for (const double time : times) {
            if (kept.empty() || time - kept.back() > burst_s) {
                kept.push_back(time);
            }
        }
        const std::size_t stride = (kept.size() + most_moments_of_a_tag - 1) / most_moments_of_a_tag;
        times.clear();
        for (std::size_t i = 0; i < kept.size(); i += stride) {
            times.push_back(kept[i]);
        }
    }
    return moments;
}

struct Compared {
    std::vector<Difference> differences;  // rising
    std::size_t tags = 0;                 // seen by both
};

Compared compare(const Moments& clock, const Moments& other) {
    Compared out;
    for (const auto& [tag, times] : clock) {
        const auto seen = other.find(tag);
        if (seen == other.end()) {
            continue;
        }
        for (const double a : times) {
            for (const double b : seen->second) {
                out.differences.push_back({a - b, out.tags});
            }
        }
        ++out.tags;
    }
    std::sort(out.differences.begin(), out.differences.end(),
              [](const Difference& a, const Difference& b) { return a.seconds < b.seconds; });
    return out;
}

// A window over the differences: how many tags it holds, and its middle.
struct Pile {
    int tags = 0;
    double middle_s = 0;
};

// The highest pile outside `apart_s` around `not_at_s`.
Pile highest_pile(const Compared& compared, double not_at_s, double apart_s) {
    const auto& d = compared.differences;
    std::vector<int> held(compared.tags, 0);
    Pile best;
    int tags = 0;
    std::size_t first = 0;
    for (std::size_t last = 0; last < d.size(); ++last) {
        tags += held[d[last].tag]++ == 0 ? 1 : 0;
        while (d[last].seconds - d[first].seconds > window_s) {
            tags -= --held[d[first++].tag] == 0 ? 1 : 0;
        }
        const double middle_s = d[first + (last - first) / 2].seconds;
        if (tags > best.tags && !(std::abs(middle_s - not_at_s) < apart_s)) {
            best = {tags, middle_s};
        }
    }
    return best;
}

double median(std::vector<double> values) {
    const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
    std::nth_element(values.begin(), middle, values.end());
    return *middle;
}

// Of each tag the difference nearest to the pile's middle.
std::vector<double> nearest_of_each(const Compared& compared, double middle_s) {
    std::vector<double> nearest(compared.tags, std::nan(""));
    for (const Difference& d : compared.differences) {
        double& kept = nearest[d.tag];
        if (std::abs(d.seconds - middle_s) <= window_s &&
            !(std::abs(kept - middle_s) <= std::abs(d.seconds - middle_s))) {
            kept = d.seconds;
        }
    }
    std::erase_if(nearest, [](double value) { return std::isnan(value); });
    return nearest;
}

// Clocks are minutes wrong, or on another zone (they differ by quarters of an hour, up to 14 hours).
bool is_usual(double difference_s) {
    constexpr double minutes_s = 1200;
    constexpr double quarter_s = 900;
    constexpr double widest_s = 14 * 3600;
    return std::abs(difference_s) <= minutes_s ||
           (std::abs(difference_s) <= widest_s + minutes_s &&
            std::abs(std::remainder(difference_s, 2 * quarter_s)) <= quarter_s / 2);
}

bool stands_out(const Pile& pile, const Compared& compared) {
    constexpr int least_usual = 4;
    constexpr int least_unusual = 8;
    constexpr double least_share = 0.3;
    const double span_s = compared.differences.back().seconds - compared.differences.front().seconds;
    const double by_chance =
        static_cast<double>(compared.differences.size()) * window_s / std::max(span_s, window_s);
    const double chance_limit = span_s > 4 * window_s ? 2 + by_chance + 3 * std::sqrt(by_chance) : 0;
    const Pile second = highest_pile(compared, pile.middle_s, 2 * window_s);
    return pile.tags >= (is_usual(pile.middle_s) ? least_usual : least_unusual) &&
           pile.tags >= least_share * static_cast<double>(compared.tags) && pile.tags > chance_limit &&
           second.tags <= 0.6 * pile.tags;
}

}  // namespace

std::optional<BetweenClocks> ahead_of_other(const std::vector<TagMoment>& clock,
                                            const std::vector<TagMoment>& other) {
    const Compared compared = compare(few_of_each(clock), few_of_each(other));
    if (compared.differences.empty()) {
        return std::nullopt;
    }
    const Pile pile = highest_pile(compared, std::nan(""), 0);
    if (!stands_out(pile, compared)) {
        return std::nullopt;
    }
    const std::vector<double> values = nearest_of_each(compared, pile.middle_s);
    const double middle_s = median(values);
    std::vector<double> away;
    std::transform(values.begin(), values.end(), std::back_inserter(away),
                   [&](double value) { return std::abs(value - middle_s); });
    // Of each tag the best pair was taken, which makes the spread look small: half as much again.
    constexpr double spread_of_median_away = 1.4826 * 1.5;
    constexpr double median_loss = 1.2533;  // of a normal distribution, against the mean
    constexpr double least_u_s = 10;
    const double spread_s = spread_of_median_away * median(away);
    const double middle_u_s = median_loss * spread_s / std::sqrt(static_cast<double>(values.size()));
    return BetweenClocks{{middle_s, std::hypot(middle_u_s, spread_s / 2, least_u_s)},
                         static_cast<int>(values.size())};
}

}  // namespace stripbook::link
