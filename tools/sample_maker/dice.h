// Seeded chance that gives the same numbers everywhere: std::mt19937_64 is fixed by the C++ standard, the
// standard distributions are not, so the two that are needed are written out here.
#pragma once

#include <cstdint>
#include <random>

namespace stripbook::sample_maker {

class Dice {
  public:
    explicit Dice(std::uint64_t seed) : engine_(seed) {}
    /// Evenly from low (included) to high (not included); `low` when both are the same.
    double between(double low, double high) {
        constexpr double steps = 9007199254740992.0;  // 2^53: every step is a double of its own
        return low + (high - low) * (static_cast<double>(engine_() >> 11U) / steps);
    }
    /// A whole number from low to high, both included.
    int whole(int low, int high) {
        const auto count = static_cast<std::uint64_t>(static_cast<std::int64_t>(high) - low + 1);
        return static_cast<int>(low + static_cast<std::int64_t>(engine_() % count));
    }
    /// A seed for something that must not disturb this run of numbers.
    std::uint64_t seed() { return engine_(); }

  private:
    std::mt19937_64 engine_;
};

}  // namespace stripbook::sample_maker
