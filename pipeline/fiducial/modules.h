// The modules of a fiducial as a picture shows them, and how well each identity explains them.
//
// A module is two pixels or less on a far tag, so each one's grey level holds part of its neighbours' (lens,
// pixel, interpolation). Nothing is therefore decided module by module: what the camera would show of every
// identity is worked out, blur included, and compared with what it does show.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>
#include <vector>

#include "fiducial/find.h"
#include "fiducial/square.h"

namespace stripbook::fiducial {

/// The black square's modules with one module of paper around, as shares between print (0) and paper (1) of
/// their own surroundings.
struct SeenModules {
    int across = 8;             ///< of the black square
    std::vector<float> inside;  ///< the data modules, row by row, in the turn of the corners given
    double contrast = 0;        ///< grey levels between paper and print
    double outline = 0;         ///< share of border and paper modules that are on their own side
};

/// How much the data modules differ among themselves: standard deviation of their shares. About 0.5 in a
/// sharp fiducial, next to nothing in a plain dark square.
double pattern_of(const SeenModules& seen);

/// Reads the grid between the corners (frame of `grey`). Paper and print are planes over the grid, fitted to
/// the modules known beforehand: light and grime vary over a square.
SeenModules seen_modules(const cv::Mat& grey, const Corners& corners, Family family);

/// How one identity in one turn fits.
struct Match {
    int identity = 0;
    int turns = 0;        ///< the fiducial's own top left is corner number `turns` of those given
    double likeness = 0;  ///< correlation of seen and expected modules, -1 to 1
    double second = 0;    ///< the best likeness of any other identity
};

/// How the levels are compared: clean print as seen; print under dirt with the levels stretched about lower
/// and lower limits, since dirt darkens paper down to little above print.
enum class Print { clean, under_dirt, either };

/// Whether the best likeness stands out from the next: by 0.2, or (far fiducials, whose blurred pictures are
/// all more alike) by so much that the next misses perfection four times as far.
bool stands_out(double likeness, double second);

/// The best of all identities and turns. A likeness of 0.8 ends the search.
Match best_match(const SeenModules& seen, Family family, Print print);

/// Whether this is the finder pattern of a QR code: a dark ring, a bright ring, a dark middle.
bool is_finder_pattern(const SeenModules& seen);

/// Likeness of every identity of 36h11 in the turn of the corners given, the best over those limits.
std::vector<float> likeness_of_all(const SeenModules& seen);

}  // namespace stripbook::fiducial
