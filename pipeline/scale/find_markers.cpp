#include "scale/find_markers.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <opencv2/calib3d.hpp>
#include <optional>

#include "number/marker_layout.h"

namespace stripbook::scale {

namespace {

using fiducial::Fiducial;
using number::MarkerLayout;

constexpr int modules_across = 7;  // of a 25h9 black square
// How far the corners may lie off the common plane, rms: lens distortion bends a large sheet by several
// pixels, a wrong place would be off by several modules.
constexpr double slack_modules = 0.5;
constexpr double slack_px = 1.0;

std::array<cv::Point2d, 4> printed_corners(const MarkerLayout& layout, int identity) {
    const auto place = std::find_if(layout.fiducials.begin(), layout.fiducials.end(),
                                    [&](const auto& f) { return f.identity == identity; });
    const double half = layout.fiducial_side / 2;
    const cv::Point2d c(place->centre.x, place->centre.y);
    return {c + cv::Point2d(-half, -half), c + cv::Point2d(half, -half), c + cv::Point2d(half, half),
            c + cv::Point2d(-half, half)};
}

bool has_twins(const std::vector<Fiducial>& members) {
    for (std::size_t i = 0; i < members.size(); ++i) {
        for (std::size_t j = i + 1; j < members.size(); ++j) {
            if (members[i].identity == members[j].identity) {
                return true;
            }
        }
    }
    return false;
}

std::optional<MarkerSighting> sheet_of(const MarkerLayout& layout, const std::vector<Fiducial>& members) {
    if (members.size() < 2 || has_twins(members)) {
        return std::nullopt;
    }
    std::vector<cv::Point2d> sheet_mm;
    std::vector<cv::Point2d> photo_px;
    double module = 0;
    for (const auto& f : members) {
        const auto printed = printed_corners(layout, f.identity);
        sheet_mm.insert(sheet_mm.end(), printed.begin(), printed.end());
        photo_px.insert(photo_px.end(), f.corners.begin(), f.corners.end());
        module += f.side_px() / modules_across / static_cast<double>(members.size());
    }
    const cv::Mat photo_from_sheet = cv::findHomography(sheet_mm, photo_px, 0);
    if (photo_from_sheet.empty()) {
        return std::nullopt;
    }
    std::vector<cv::Point2d> fitted;
    cv::perspectiveTransform(sheet_mm, fitted, photo_from_sheet);
    double sum = 0;
    for (std::size_t i = 0; i < fitted.size(); ++i) {
        const cv::Point2d d = fitted[i] - photo_px[i];
        sum += d.dot(d);
    }
    const double rms_px = std::sqrt(sum / static_cast<double>(fitted.size()));
    if (!(rms_px < slack_modules * module + slack_px)) {
        return std::nullopt;
    }
    const std::vector<cv::Point2d> sheet{
        {0, 0}, {layout.width, 0}, {layout.width, layout.height}, {0, layout.height}};
    std::vector<cv::Point2d> corners;
    cv::perspectiveTransform(sheet, corners, photo_from_sheet);
    return MarkerSighting{layout.kind,
                          static_cast<int>(members.size()),
                          {corners[0], corners[1], corners[2], corners[3]},
                          members};
}

}  // namespace

MarkerReading find_markers(const std::vector<Fiducial>& found) {
    std::map<std::string, std::vector<Fiducial>> by_kind;
    std::map<std::string, std::vector<Fiducial>> by_stage;
    for (const auto& f : found) {
        if (f.family != fiducial::Family::tag25h9) {
            continue;
        }
        if (const auto* layout = number::marker_with_identity(f.identity)) {
            by_kind[layout->kind].push_back(f);
        } else if (const auto stage = number::stage_of_identity(f.identity)) {
            by_stage[std::string(*stage)].push_back(f);
        }
    }
    MarkerReading reading;
    for (const auto& layout : number::marker_layouts()) {
        if (auto sheet = sheet_of(layout, by_kind[layout.kind])) {
            reading.markers.push_back(*sheet);
        }
    }
    for (const auto& [stage, members] : by_stage) {
        cv::Point2d sum;
        for (const auto& f : members) {
            sum += f.centre;
        }
        reading.stage_cards.push_back(
            {stage, members.size() >= 2, sum / static_cast<double>(members.size())});
    }
    return reading;
}

}  // namespace stripbook::scale
