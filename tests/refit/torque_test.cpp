#include "refit/torque.h"

#include <catch2/catch.hpp>

using namespace stripbook;
using refit::TorqueUnit;

TEST_CASE("A pound-force foot is 1.3558179483314004 newton metres", "[refit]") {
    // NIST SP 811, appendix B.8: foot pound-force to newton metre 1.355 818 E+00; exact from its three
    // factors.
    CHECK(refit::newton_metres({1, TorqueUnit::pound_force_foot}) == 1.3558179483314004);
    CHECK(refit::newton_metres({1, TorqueUnit::pound_force_foot}) == Approx(1.355818).margin(5e-7));
    CHECK(refit::newton_metres({1, TorqueUnit::pound_force_foot}) ==
          Approx(0.45359237 * 9.80665 * 0.3048).epsilon(1e-15));
    CHECK(refit::pound_force_feet({1.3558179483314004, TorqueUnit::newton_metre}) ==
          Approx(1).epsilon(1e-15));
    CHECK(refit::newton_metres({70, TorqueUnit::newton_metre}) == 70);
    CHECK(refit::pound_force_feet({52, TorqueUnit::pound_force_foot}) == 52);
}

TEST_CASE("Torques are read as people write them, never without a unit", "[refit]") {
    for (const char* typed : {"70 N.m", "70Nm", "70 N m", " 70.0 n.m ", "70 N\xC2\xB7m", "70 N-m"}) {
        INFO(typed);
        const auto torque = refit::torque_from(typed);
        REQUIRE(torque);
        CHECK(torque->value == 70);
        CHECK(torque->unit == TorqueUnit::newton_metre);
    }
    for (const char* typed :
         {"52 lbf.ft", "52 lbf ft", "52 lb-ft", "52lbft", "52 ft lbf", "52 ft-lb", "52 LBF.FT"}) {
        INFO(typed);
        const auto torque = refit::torque_from(typed);
        REQUIRE(torque);
        CHECK(torque->value == 52);
        CHECK(torque->unit == TorqueUnit::pound_force_foot);
    }
    for (const char* typed :
         {"", "70", "N.m", "-70 N.m", "0 N.m", "7 kgf.m", "70 lbf.in", "1e3 N.m", "70 N", "7.0.0 N.m"}) {
        INFO(typed);
        CHECK_FALSE(refit::torque_from(typed));
    }
}

TEST_CASE("A torque is told as it was written, and to three figures in the other unit", "[refit]") {
    const refit::Torque metric{70, TorqueUnit::newton_metre};
    CHECK(refit::torque_words(metric) == "70 N.m");
    CHECK(refit::torque_in_other_unit(metric) == "51.6 lbf.ft");  // 70 / 1.35582 = 51.629
    CHECK(refit::torque_words({52.5, TorqueUnit::pound_force_foot}) == "52.5 lbf.ft");
    CHECK(refit::torque_in_other_unit({52, TorqueUnit::pound_force_foot}) == "70.5 N.m");
    CHECK(refit::torque_in_other_unit({400, TorqueUnit::pound_force_foot}) == "542 N.m");
    CHECK(refit::torque_in_other_unit({1.5, TorqueUnit::newton_metre}) == "1.11 lbf.ft");
}
