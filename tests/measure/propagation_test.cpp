#include "measure/propagation.h"

#include <array>

#include <catch2/catch.hpp>
#include <cmath>

using namespace stripbook;

namespace {

double correlation(const cv::Mat1d& covariance, int i, int j) {
    return covariance(i, j) / std::sqrt(covariance(i, i) * covariance(j, j));
}

}  // namespace

TEST_CASE("Resistance and reactance of the GUM come out with their uncertainties and correlations",
          "[measure]") {
    // JCGM 100:2008, H.2: five simultaneous readings of V (volt), I (milliampere), phi (radian); means and
    // the covariance of the means (5.2.3); R = V/I cos phi, X = V/I sin phi, Z = V/I in ohm.
    const std::array<std::array<double, 5>, 3> readings{{{5.007, 4.994, 5.005, 4.990, 4.999},
                                                         {19.663, 19.639, 19.640, 19.685, 19.678},
                                                         {1.0456, 1.0438, 1.0468, 1.0428, 1.0433}}};
    std::vector<double> means;
    for (const auto& series : readings) {
        double sum = 0;
        for (const double value : series) {
            sum += value;
        }
        means.push_back(sum / 5);
    }
    cv::Mat1d covariance(3, 3, 0.0);
    for (int i = 0; i < 3; ++i) {
        for (int j = 0; j < 3; ++j) {
            for (std::size_t k = 0; k < 5; ++k) {
                const auto a = static_cast<std::size_t>(i);
                const auto b = static_cast<std::size_t>(j);
                covariance(i, j) += (readings[a][k] - means[a]) * (readings[b][k] - means[b]) / (5 * 4);
            }
        }
    }
    const measure::Values values = [](const std::vector<double>& x) {
        const double z = 1000 * x[0] / x[1];
        return std::vector<double>{z * std::cos(x[2]), z * std::sin(x[2]), z};
    };
    const cv::Mat1d result =
        measure::propagated(measure::sensitivities(values, means, covariance), covariance);
    const auto at = values(means);
    CHECK(at[0] == Approx(127.732).margin(0.0005));
    CHECK(at[1] == Approx(219.847).margin(0.0005));
    CHECK(at[2] == Approx(254.260).margin(0.0005));
    CHECK(std::sqrt(result(0, 0)) == Approx(0.071).margin(0.0005));
    CHECK(std::sqrt(result(1, 1)) == Approx(0.295).margin(0.001));
    CHECK(std::sqrt(result(2, 2)) == Approx(0.236).margin(0.0006));
    CHECK(correlation(result, 0, 1) == Approx(-0.588).margin(0.001));
    CHECK(correlation(result, 0, 2) == Approx(-0.485).margin(0.001));
    CHECK(correlation(result, 1, 2) == Approx(0.993).margin(0.001));
}

TEST_CASE("The end gauge of the GUM comes out through the sensitivities of its own equation", "[measure]") {
    // JCGM 100:2008, H.1, in nm and kelvin, written out: length = standard + difference - standard (expansion
    // difference * temperature + expansion * temperature difference).
    const double standard = 50.000623e6;
    const std::vector<double> inputs{standard, 215, 0, -0.1, 11.5e-6, 0};
    const std::array<double, 6> u{
        25, 9.7, 1e-6 / std::sqrt(3.0), 0.41, 2e-6 / std::sqrt(3.0), 0.05 / std::sqrt(3.0)};
    cv::Mat1d covariance(6, 6, 0.0);
    for (int i = 0; i < 6; ++i) {
        covariance(i, i) = u[static_cast<std::size_t>(i)] * u[static_cast<std::size_t>(i)];
    }
    const measure::Values length = [](const std::vector<double>& x) {
        return std::vector<double>{x[0] + x[1] - x[0] * (x[2] * x[3] + x[4] * x[5])};
    };
    const cv::Mat1d result =
        measure::propagated(measure::sensitivities(length, inputs, covariance), covariance);
    CHECK(length(inputs)[0] == Approx(50.000838e6).margin(0.5));
    CHECK(std::sqrt(result(0, 0)) == Approx(31.7).margin(0.1));  // 32 in print
}
