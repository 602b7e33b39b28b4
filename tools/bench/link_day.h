// Simulated days in a workshop: who photographs which part when, what the reading makes of it, and the truth.
#pragma once

#include <cstdint>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "link/assign.h"

namespace stripbook::bench {

enum class TagShot { first, last, both, middle };

/// What kind of day it is. Chances are of parts unless named otherwise.
struct DayKind {
    std::string name;
    int cameras = 1;
    int photos = 400;  ///< about
    std::vector<TagShot> habits{TagShot::first};
    bool habits_change = false;
    double against_habit = 0.04;
    double forgotten = 0;      ///< never tagged that day
    double unreadable = 0.0;   ///< tagged, but the tag is never confirmed
    double joined = 0;         ///< another person's photos of the same part, at the same time
    double stray = 0.01;       ///< of untagged photos: a neighbour's tag in the picture
    double again = 0.05;       ///< of untagged photos: the own tag is in the picture as well
    double clock_error_s = 3;  ///< of the corrected times, standard deviation
    double look_alike = 0.3;   ///< 0: each part looks its own way; 1: all look the same
    bool looks = true;         ///< false: photos have no signatures at all
    double slow = 1;           ///< the person's pace
    std::uint64_t seed = 1;
};

/// One photo before it is read: what it shows.
struct SimulatedPhoto {
    int camera = 0;
    double true_s = 0;
    int part = 0;  ///< serial
    bool shows_own_tag = false;
    int neighbours_tag = 0;  ///< serial; 0: none
    bool tag_unreadable = false;
    int place = 0;  ///< surroundings
};

std::vector<SimulatedPhoto> simulate(const DayKind& kind);

struct SimulatedDay {
    std::vector<link::PhotoSightings> photos;
    std::map<book::PhotoNumber, int> part_of;
    std::set<int> shown;  ///< parts whose tag was read for sure in at least one photo
};

/// What reading would make of the photos, by noise as we judge it (no source).
SimulatedDay read_by_noise(const std::vector<SimulatedPhoto>& photos, const DayKind& kind);

/// As after a dump: the cameras' clocks are set against one another by the tags that several cameras saw.
void set_clocks_right(SimulatedDay& day);

}  // namespace stripbook::bench
