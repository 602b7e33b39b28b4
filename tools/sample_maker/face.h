// Anything flat that a made photograph can show.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <variant>
#include <vector>

#include "sample_maker/marker_face.h"
#include "sample_maker/tag_face.h"

namespace stripbook::sample_maker {

/// A square with one QR code of any text and four modules of white around it: reports, clock shots,
/// strangers' codes.
struct QrFace {
    std::string text;
    double side_mm = 40;
};

/// A plain rectangle: a flat part, a sheet of paper.
struct PlainFace {
    cv::Size2d size_mm{100, 60};
};

/// A page or a piece of one as a picture: what a printer would lay down. Paper 255, print 0; the picture is
/// the whole face.
struct PictureFace {
    cv::Mat1b picture;
    cv::Size2d size_mm;
};

using Face = std::variant<TagFace, MarkerFace, StageFace, QrFace, PlainFace, PictureFace>;

/// Width and height as designed, millimetres.
cv::Size2d face_size_mm(const Face& face);

/// Paper 255, print 0. Pixel frame as in sheet.h.
cv::Mat1b draw_face(const Face& face, double px_per_mm);

/// The fiducials of the face, in the order of the drawing; empty when it has none.
std::vector<PrintedFiducial> face_fiducials(const Face& face);

}  // namespace stripbook::sample_maker
