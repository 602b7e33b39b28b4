// Tightening torques as people write them, and from one unit to the other.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace stripbook::refit {

/// 1 lbf.ft in N.m, exact: 0.45359237 kg x 9.80665 m/s2 x 0.3048 m (NIST SP 811, 2008, appendix B: 1.355
/// 818).
inline constexpr double newton_metres_per_pound_force_foot = 1.3558179483314004;

enum class TorqueUnit { newton_metre, pound_force_foot };

/// "N.m" or "lbf.ft".
const char* torque_unit_words(TorqueUnit unit);
std::optional<TorqueUnit> torque_unit_of(std::string_view words);

struct Torque {
    double value = 0;
    TorqueUnit unit = TorqueUnit::newton_metre;
};

/// "70 N.m", "70Nm", "52 lbf.ft", "52 lb-ft", "52 ft lbf": above zero, with its unit. Else nothing.
std::optional<Torque> torque_from(std::string_view typed);

double newton_metres(const Torque& torque);
double pound_force_feet(const Torque& torque);

/// As it was written: "70 N.m".
std::string torque_words(const Torque& torque);
/// To three figures in the other unit: "51.6 lbf.ft".
std::string torque_in_other_unit(const Torque& torque);

}  // namespace stripbook::refit
