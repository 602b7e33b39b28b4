#include "bench/measure_set.h"

#include <algorithm>
#include <cmath>
#include <fstream>
#include <nlohmann/json.hpp>

#include "errors.h"

namespace stripbook::bench {

namespace {

using nlohmann::json;

void add_round(double diameter_mm, TruePart& part) {
    part.length_mm = part.width_mm = part.largest_mm = diameter_mm;
    part.area_mm2 = CV_PI / 4 * diameter_mm * diameter_mm;
}

void add_flange(const json& truth, TruePart& part) {
    add_round(truth.at("od"), part);
    part.holes.push_back({truth.at("bore"), cv::Point2d(0, 0)});
    part.bolt_circle_mm = truth.at("bcd").get<double>();
    const int n = truth.at("n");
    for (int i = 0; i < n; ++i) {
        const double turn = 2 * CV_PI * i / n;
        part.holes.push_back(
            {truth.at("hole"), cv::Point2d(std::cos(turn), std::sin(turn)) * (*part.bolt_circle_mm / 2)});
    }
}

// A flange without bolts, with a bore or none.
void add_disc(const json& truth, TruePart& part) {
    add_round(truth.at("od"), part);
    if (truth.contains("bore")) {
        part.holes.push_back({truth.at("bore"), cv::Point2d(0, 0)});
    }
}

void add_lever(const json& truth, TruePart& part) {
    const double r1 = truth.at("r1");
    const double r2 = truth.at("r2");
    const double centres = truth.at("centres");
    part.length_mm = centres + r1 + r2;
    part.width_mm = 2 * std::max(r1, r2);
    part.largest_mm = part.length_mm;
    // Two sectors of circles, and on either side what lies between the centre line and the tangent.
    const double sector = std::acos((r1 - r2) / centres);  // half of the second circle's
    part.area_mm2 = (CV_PI - sector) * r1 * r1 + sector * r2 * r2 + (r1 + r2) * centres * std::sin(sector);
    part.holes = {{truth.at("d1"), cv::Point2d(0, 0)}, {truth.at("d2"), cv::Point2d(centres, 0)}};
}

void add_plate(const json& truth, TruePart& part) {
    const double w = truth.at("w");
    const double h = truth.at("h");
    part.length_mm = std::max(w, h);
    part.width_mm = std::min(w, h);
    const double corner = truth.value("corner", 0.0);  // its radius
    part.largest_mm = std::hypot(w - 2 * corner, h - 2 * corner) + 2 * corner;
    part.area_mm2 = w * h - (4 - CV_PI) * corner * corner;
    for (const auto& hole : truth.at("holes")) {
        part.holes.push_back({hole.at(2), cv::Point2d(hole.at(0), hole.at(1))});
    }
}

// A ring segment: the truth does not say where its two holes are.
void add_shoe(const json& truth, TruePart& part) {
    const double ro = truth.at("ro");
    const double ri = truth.at("ri");
    const double half = truth.at("angle").get<double>() / 2 * CV_PI / 180;
    part.length_mm = 2 * ro * std::sin(half);
    part.width_mm = ro - ri * std::cos(half);
    part.largest_mm =
        std::max(part.length_mm, std::hypot((ro + ri) * std::sin(half), (ro - ri) * std::cos(half)));
    part.area_mm2 = half * (ro * ro - ri * ri);
    part.holes = {{truth.at("hole"), std::nullopt}, {truth.at("hole"), std::nullopt}};
}

TruePart part_of(const json& truth) {
    TruePart part;
    part.kind = truth.at("kind");
    part.height_mm = truth.at("thickness");
    if (part.kind == "flange") {
        add_flange(truth, part);
    } else if (part.kind == "disc") {
        add_disc(truth, part);
    } else if (part.kind == "lever") {
        add_lever(truth, part);
    } else if (part.kind == "plate") {
        add_plate(truth, part);
    } else {
        add_shoe(truth, part);
    }
    return part;
}

}  // namespace

std::vector<BenchShot> shots_of(const std::filesystem::path& folder) {
    std::ifstream file(folder / "truth.json");
    if (!file) {
        throw WrongUse("There is no truth.json in " + folder.string() +
                       ": give a folder of photos with their truth.");
    }
    const json truth = json::parse(file);
    std::vector<BenchShot> shots;
    for (const auto& shot : truth.at("shots")) {
        if (shot.at("cards").size() == 1 && shot.contains("parts") && shot.at("parts").size() == 1) {
            const std::string name = shot.at("file");
            shots.push_back(
                {folder / name, name, part_of(shot.at("parts").front()), shot.value("look", std::string())});
        }
    }
    return shots;
}

}  // namespace stripbook::bench
