// What a worker is told to measure and what it answers. Strangers' bytes are decoded there.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "fiducial/find.h"
#include "measure/dimension.h"
#include "scale/plane.h"

namespace stripbook::day {

/// A distance or a circle that a person picked, in pixels of the upright picture.
struct PickedPoints {
    bool circle = false;  ///< else a distance between two points
    std::vector<cv::Point2d> upright_px;
    bool snap = true;
};

struct MeasureJob {
    std::string path;
    int orientation = 1;
    std::vector<fiducial::Fiducial> marker;  ///< as sighted
    scale::LensProfile lens;
    scale::SheetCorrection correction;
    std::optional<double> face_height_mm;
    std::vector<std::vector<cv::Point2d>> not_part_px;  ///< tags and cards in the picture
    std::optional<PickedPoints> picked;                 ///< by hand; else the part is found
};

struct MeasureAnswer {
    std::string refusal;  ///< empty when there are dimensions
    std::vector<measure::Dimension> dimensions;
    std::vector<std::string> notes;
    std::string overlay_jpeg;  ///< upright, its long side at most 2000 px; may be empty
};

std::string to_job(const MeasureJob& job);
MeasureJob measure_job_from(const std::string& text);
std::string to_answer(const MeasureAnswer& answer);
/// Throws nlohmann::json::exception on text that is no answer.
MeasureAnswer measure_answer_from(const std::string& text);

/// What runs in the worker.
MeasureAnswer measure_photo(const MeasureJob& job);
std::string answer_to_measure_job(const std::string& job);

}  // namespace stripbook::day
