// The face of a printed tag (docs/tag-code.md, version 1) as a flat grey picture, and where its fiducials'
// corners lie.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <string>
#include <vector>

#include "number/tag_number.h"

namespace stripbook::sample_maker {

/// A printed fiducial: its identity and the corners of its black square in millimetres of the face. The
/// corners are the fiducial's own top left, top right, bottom right, bottom left (on a turned fiducial the
/// first is not the upper left).
struct PrintedFiducial {
    int identity = 0;
    std::array<cv::Point2d, 4> corners_mm;
};

/// What a tag shows besides its number. Empty lines are left out.
struct TagFace {
    number::TagNumber number;
    std::string part_name{};
    std::string place{};
};

/// The large tag, 120 x 60 mm: paper 255, print 0. Pixel frame as in sheet.h.
cv::Mat1b draw_tag_face(const TagFace& face, double px_per_mm);

/// The four fiducials, corners 0 to 3 of the tag.
std::vector<PrintedFiducial> tag_fiducials(const number::TagNumber& number);

}  // namespace stripbook::sample_maker
