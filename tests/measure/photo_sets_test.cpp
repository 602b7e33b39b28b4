// Photo sets that lie outside the repository: STRIPBOOK_PHOTO_SETS names folders with a truth.json, separated
// by colons. Their bench shots are measured with the lens profile of the set's own photos.
#include <catch2/catch.hpp>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <sstream>

#include "measure/part.h"
#include "tag/read_picture.h"
#include "where.h"

using namespace stripbook;
using nlohmann::json;

namespace {

std::vector<cv::Point2d> corners(const json& list) {
    std::vector<cv::Point2d> points;
    for (const auto& p : list) {
        points.emplace_back(p.at(0).get<double>(), p.at(1).get<double>());
    }
    return points;
}

// Largest outside size of a part of the truth.
double true_length(const json& part) {
    if (part.at("kind") == "flange") {
        return part.at("od");
    }
    if (part.at("kind") == "plate") {
        return std::max(part.at("w").get<double>(), part.at("h").get<double>());
    }
    if (part.at("kind") == "lever") {
        return part.at("centres").get<double>() + part.at("r1").get<double>() + part.at("r2").get<double>();
    }
    return 2 * part.at("ro").get<double>() * std::sin(part.at("angle").get<double>() / 2 * CV_PI / 180);
}

// No length of a set may be wrong: beyond 3 U, or beyond 1 %.
void check_set(const std::filesystem::path& folder) {
    std::ifstream file(folder / "truth.json");
    const json truth = json::parse(file);
    for (const auto& shot : truth.at("shots")) {
        if (shot.at("cards").size() != 1 || shot.at("parts").size() != 1) {
            continue;
        }
        const std::string name = shot.at("file");
        const cv::Mat colour =
            cv::imread((folder / name).string(), cv::IMREAD_COLOR | cv::IMREAD_IGNORE_ORIENTATION);
        REQUIRE_FALSE(colour.empty());
        cv::Mat grey;
        cv::cvtColor(colour, grey, cv::COLOR_BGR2GRAY);
        const double focal_35_mm =
            shot.at("K").at(0).at(0).get<double>() / std::hypot(colour.cols, colour.rows) * 43.2666;
        const auto fiducials = tag::read_picture(grey, number::BookCode::from_typed("PET")).fiducials;
        const auto plane = scale::find_plane(fiducials, scale::lens_from_exif(focal_35_mm, colour.size()));
        INFO(name << ": " << plane.reason);
        REQUIRE(plane.plane);
        measure::PartOptions options;
        options.face_height_mm = shot.at("parts").at(0).at("thickness").get<double>();
        for (const auto& tag : shot.at("tags")) {
            options.not_part_px.push_back(corners(tag.at("corners_px_unrotated")));
        }
        const auto part = measure::measure_part(colour, *plane.plane, options);
        // What is said of the outline is said only where it is measured.
        if (!part.refusal) {
            CHECK((part.notes.front().find("outline") != std::string::npos) == part.outline_reason.empty());
        }
        for (const auto& d : part.dimensions) {
            if (d.kind == measure::DimensionKind::length) {
                const double error = std::abs(d.value - true_length(shot.at("parts").at(0)));
                INFO("length " << d.value << " U " << d.expanded());
                CHECK(error < 3 * d.expanded());
                CHECK(error < 0.01 * d.value);
            }
        }
    }
}

}  // namespace

TEST_CASE("No length of the demo's bench shots is wrong", "[measure]") {
    // The demo's truth lies above its cards: one folder a camera.
    const auto top = test::source_folder() / "sample_images";
    REQUIRE(std::filesystem::exists(top / "truth.json"));
    check_set(top);
}

TEST_CASE("No length of the photo sets named outside is wrong", "[measure][outside]") {
    const char* sets = std::getenv("STRIPBOOK_PHOTO_SETS");
    if (sets == nullptr) {
        std::puts("skipped: STRIPBOOK_PHOTO_SETS names no photo sets");
        return;
    }
    std::istringstream folders(sets);
    for (std::string folder; std::getline(folders, folder, ':');) {
        check_set(folder);
    }
}
