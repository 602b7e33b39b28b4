// The tables of the reading bench; each prints itself.
#pragma once

#include <cstdint>
#include <filesystem>
#include <vector>

namespace stripbook::bench {

/// Read rate over size in the picture, 0.5 to 3 px/mm.
void print_far(int tags_a_point, std::uint64_t seed);
/// Read rate against grime, covers, glare, shake and exposure.
void print_dirty(int tags_a_point, std::uint64_t seed);
/// Mean and worst time of one photo over folders that hold a truth.json, and the tags read.
void print_fast(const std::vector<std::filesystem::path>& photo_sets, int rounds, bool verbose);
/// RMS distance of the fiducials' corners from the truth, px.
void print_corners(int pictures_a_point, std::uint64_t seed);
/// Numbers confirmed that are not there, over made tags and pictures without one. Returns how many.
int print_wrong(int tags, int tagless, std::uint64_t seed);

}  // namespace stripbook::bench
