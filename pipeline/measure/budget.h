// An uncertainty budget after JCGM 100:2008 (GUM): named components, combined in quadrature.
#pragma once

#include <string>
#include <vector>

namespace stripbook::measure {

/// One named standard uncertainty, already multiplied by its sensitivity: in the unit of the value.
struct Component {
    std::string name;  ///< corners, lens, sheet correction, height, edge, plane not parallel, ...
    double u = 0;
    double degrees_of_freedom = 0;  ///< 0: as good as infinite
};

struct Budget {
    std::vector<Component> components;
    /// Root of the sum of squares (GUM 5.1.2, components independent).
    [[nodiscard]] double combined() const;
    /// Welch-Satterthwaite (GUM G.4.1); infinite when every component is.
    [[nodiscard]] double effective_degrees_of_freedom() const;
    /// Expanded uncertainty with k = 2.
    [[nodiscard]] double expanded() const { return 2 * combined(); }
};

/// Standard uncertainty of a value that lies evenly within +- `half_width` (GUM 4.3.7).
double u_of_rectangle(double half_width);

/// A value and its U ready to print: U with two digits, or one from 30 up, the value to the same decimals
/// (GUM 7.2.6). U is rounded up when plain rounding would take more than 5 % off it. Ties of the value go to
/// the even digit (ISO 80000-1 Annex B).
struct Rounded {
    double value = 0;
    double expanded = 0;
    int decimals = 0;  ///< of both, not negative
    std::string value_text;
    std::string expanded_text;
};
Rounded rounded(double value, double expanded);

/// `value` with `decimals`, ties to even as decimal numbers (12.35 gives 12.4 although its binary form is
/// less).
std::string text_with_decimals(double value, int decimals);

}  // namespace stripbook::measure
