#include "bench/link_score.h"

#include <algorithm>
#include <cmath>
#include <set>

namespace stripbook::bench {

void LinkScore::add(const LinkScore& other) {
    shown += other.shown;
    right += other.right;
    wrong += other.wrong;
    asked += other.asked;
    unshown += other.unshown;
    unshown_linked += other.unshown_linked;
    for (std::size_t i = 0; i < bins.size(); ++i) {
        bins[i].count += other.bins[i].count;
        bins[i].right += other.bins[i].right;
        bins[i].sum += other.bins[i].sum;
    }
}

double LinkScore::calibration_error() const {
    double off = 0;
    int all = 0;
    for (const Bin& bin : bins) {
        off += std::abs(bin.sum - bin.right);
        all += bin.count;
    }
    return all == 0 ? 0 : off / all;
}

LinkScore score(const SimulatedDay& day, const Linker& linker, const link::Rules& rules) {
    const link::Assignment found = linker(day.photos, rules);
    LinkScore s;
    std::map<book::PhotoNumber, std::set<int>> linked;
    const auto tell = [&](double chance, bool right) {
        auto& bin = s.bins[std::min(s.bins.size() - 1,
                                    static_cast<std::size_t>(chance * static_cast<double>(s.bins.size())))];
        ++bin.count;
        bin.sum += chance;
        bin.right += right ? 1 : 0;
    };
    for (const auto& l : found.links) {
        linked[l.photo].insert(l.tag.serial());
        tell(l.sure, l.tag.serial() == day.part_of.at(l.photo));
    }
    for (const auto& u : found.unsettled) {
        for (std::size_t i = 0; i < u.chances.size(); ++i) {
            tell(u.chances[i], u.suggestions[i].serial() == day.part_of.at(u.photo));
        }
    }
    for (const auto& [photo, part] : day.part_of) {
        const auto& parts = linked[photo];
        if (!day.shown.contains(part)) {
            ++s.unshown;
            s.unshown_linked += parts.empty() ? 0 : 1;
            continue;
        }
        ++s.shown;
        const bool wrong =
            std::any_of(parts.begin(), parts.end(), [part = part](int p) { return p != part; });
        s.wrong += wrong ? 1 : 0;
        s.right += !wrong && !parts.empty() ? 1 : 0;
        s.asked += parts.empty() ? 1 : 0;
    }
    return s;
}

}  // namespace stripbook::bench
