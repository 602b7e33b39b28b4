#include <algorithm>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "day/file_bytes.h"
#include "day/measure_job.h"
#include "measure/by_hand.h"
#include "measure/overlay.h"
#include "measure/part.h"
#include "measure/upright.h"
#include "photo/picture.h"

namespace stripbook::day {

namespace {

constexpr int overlay_long_side_px = 2000;  // 10 inches at what paper shows

std::string jpeg_of(cv::Mat picture) {
    const int long_side = std::max(picture.cols, picture.rows);
    if (long_side > overlay_long_side_px) {
        const double share = static_cast<double>(overlay_long_side_px) / long_side;
        cv::resize(picture, picture, {}, share, share, cv::INTER_AREA);
    }
    constexpr int quality = 88;
    std::vector<uchar> bytes;
    cv::imencode(".jpg", picture, bytes, {cv::IMWRITE_JPEG_QUALITY, quality});
    return {bytes.begin(), bytes.end()};
}

// The part of the upright overlay around the part, so that its numbers are large enough in print.
cv::Mat around_part(const cv::Mat& overlay, const std::vector<cv::Point2d>& around_px, cv::Size stored,
                    int orientation) {
    std::vector<cv::Point2f> upright;
    upright.reserve(around_px.size());
    for (const auto& p : around_px) {
        upright.emplace_back(measure::upright_from_stored(p, stored, orientation));
    }
    const cv::Rect part = cv::boundingRect(upright);
    const int margin = std::max(part.width, part.height) / 4;
    const cv::Rect wanted(part.x - margin, part.y - margin, part.width + 2 * margin,
                          part.height + 2 * margin);
    const cv::Rect box = wanted & cv::Rect({0, 0}, overlay.size());
    return box.empty() ? overlay : overlay(box).clone();
}

MeasureAnswer measured_by_hand(const cv::Mat& picture, const scale::Plane& plane, const MeasureJob& job) {
    cv::Mat grey;
    cv::cvtColor(picture, grey, cv::COLOR_BGR2GRAY);
    std::vector<cv::Point2d> points;
    for (const auto& upright : job.picked->upright_px) {
        points.push_back(measure::stored_from_upright(upright, picture.size(), job.orientation));
    }
    measure::ByHandOptions options;
    options.face_height_mm = job.face_height_mm;
    options.snap = job.picked->snap;
    const auto result = job.picked->circle
                            ? measure::measure_circle(grey, plane, points, options)
                            : measure::measure_between(grey, plane, points[0], points[1], options);
    MeasureAnswer answer;
    answer.refusal = result.reason;
    if (result.dimension) {
        answer.dimensions.push_back(*result.dimension);
        answer.dimensions.back().number = 1;
        measure::PartMeasurement drawn;
        drawn.dimensions = answer.dimensions;
        answer.overlay_jpeg = jpeg_of(measure::draw_overlay(picture, drawn, job.orientation));
    }
    return answer;
}

MeasureAnswer measured_part(const cv::Mat& picture, const scale::Plane& plane, const MeasureJob& job) {
    measure::PartOptions options;
    options.face_height_mm = job.face_height_mm;
    options.not_part_px = job.not_part_px;
    const auto part = measure::measure_part(picture, plane, options);
    if (part.refusal) {
        return {part.reason, {}, {}, ""};
    }
    auto notes = part.notes;
    if (!part.outline_reason.empty()) {
        notes.push_back(part.outline_reason);
    }
    const cv::Mat overlay = measure::draw_overlay(picture, part, job.orientation);
    return {"", part.dimensions, notes,
            jpeg_of(around_part(overlay, part.around_px, picture.size(), job.orientation))};
}

}  // namespace

MeasureAnswer measure_photo(const MeasureJob& job) {
    const photo::Picture picture = photo::decode_colour(bytes_of_original(job.path));
    if (!picture.whole || picture.pixels.empty()) {
        return {"the picture is damaged: " + picture.fault, {}, {}, ""};
    }
    const auto reading = scale::find_plane(job.marker, job.lens, job.correction);
    if (!reading.plane) {
        return {reading.reason, {}, {}, ""};
    }
    return job.picked ? measured_by_hand(picture.pixels, *reading.plane, job)
                      : measured_part(picture.pixels, *reading.plane, job);
}

std::string answer_to_measure_job(const std::string& job) {
    return to_answer(measure_photo(measure_job_from(job)));
}

}  // namespace stripbook::day
