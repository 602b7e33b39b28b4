// What linking made of simulated days, counted against the truth.
#pragma once

#include <array>
#include <functional>

#include "bench/link_day.h"

namespace stripbook::bench {

using Linker = std::function<link::Assignment(const std::vector<link::PhotoSightings>&, const link::Rules&)>;

struct LinkScore {
    /// Photos of parts whose tag was read that day: linked to their part only, to another, or left open.
    int shown = 0, right = 0, wrong = 0, asked = 0;
    /// Photos of parts whose tag was not read: all must be asked about.
    int unshown = 0, unshown_linked = 0;
    /// Of every chance told (links and suggestions), by tenths: how many, their sum, how many were right.
    struct Bin {
        int count = 0, right = 0;
        double sum = 0;
    };
    std::array<Bin, 20> bins{};

    void add(const LinkScore& other);
    /// Mean distance of chance and truth over the bins, weighted by their counts.
    [[nodiscard]] double calibration_error() const;
};

LinkScore score(const SimulatedDay& day, const Linker& linker, const link::Rules& rules);

}  // namespace stripbook::bench
