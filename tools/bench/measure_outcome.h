// What a way of measuring made of a group of shots, and its row in the table.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "bench/measure_score.h"

namespace stripbook::bench {

struct Outcome {
    std::vector<Compared> all;
    int shots = 0;
    int whole = 0;
    int partly = 0;                      ///< holes only
    std::map<std::string, int> reasons;  ///< why shots were refused, or their outline was
    int wrong = 0;
    int missing = 0;
    double slowest_s = 0;
    double seconds = 0;    ///< in all, as one waits for them
    bool oblique = false;  ///< of one shot: the camera is tilted further than the aims hold for

    void add(const Outcome& other);
};

void print_head();
void print_row(const std::string& name, const Outcome& outcome);
void print_reasons(const Outcome& outcome);

}  // namespace stripbook::bench
