#include "sample_maker/face.h"

#include <opencv2/imgproc.hpp>

#include "number/tag_layout.h"
#include "sample_maker/sheet.h"

namespace stripbook::sample_maker {

namespace {

template <class... Cases>
struct Overloaded : Cases... {
    using Cases::operator()...;
};
template <class... Cases>
Overloaded(Cases...) -> Overloaded<Cases...>;

cv::Mat1b draw_qr_face(const QrFace& face, double px_per_mm) {
    const Modules modules = qr_modules(face.text, QrLevel::medium);
    Sheet sheet(face.side_mm, face.side_mm, px_per_mm);
    const double quiet_share = static_cast<double>(modules.cols) / (modules.cols + 8);
    sheet.ink_modules(modules, {face.side_mm / 2, face.side_mm / 2}, face.side_mm * quiet_share);
    return sheet.picture();
}

cv::Mat1b draw_picture_face(const PictureFace& face, double px_per_mm) {
    cv::Mat1b drawn;
    cv::resize(face.picture, drawn,
               {cvCeil(face.size_mm.width * px_per_mm), cvCeil(face.size_mm.height * px_per_mm)}, 0, 0,
               cv::INTER_AREA);
    return drawn;
}

}  // namespace

cv::Size2d face_size_mm(const Face& face) {
    return std::visit(
        Overloaded{
            [](const TagFace&) { return cv::Size2d(number::TagLayout::width, number::TagLayout::height); },
            [](const MarkerFace& marker) {
                return cv::Size2d(layout_of(marker).width, layout_of(marker).height);
            },
            [](const StageFace&) { return cv::Size2d(stage_card_width_mm, stage_card_height_mm); },
            [](const QrFace& qr) { return cv::Size2d(qr.side_mm, qr.side_mm); },
            [](const PlainFace& plain) { return plain.size_mm; },
            [](const PictureFace& picture) { return picture.size_mm; },
        },
        face);
}

cv::Mat1b draw_face(const Face& face, double px_per_mm) {
    return std::visit(Overloaded{
                          [&](const TagFace& tag) { return draw_tag_face(tag, px_per_mm); },
                          [&](const MarkerFace& marker) { return draw_marker_face(marker, px_per_mm); },
                          [&](const StageFace& stage) { return draw_stage_face(stage, px_per_mm); },
                          [&](const QrFace& qr) { return draw_qr_face(qr, px_per_mm); },
                          [&](const PlainFace& plain) {
                              return Sheet(plain.size_mm.width, plain.size_mm.height, px_per_mm).picture();
                          },
                          [&](const PictureFace& picture) { return draw_picture_face(picture, px_per_mm); },
                      },
                      face);
}

std::vector<PrintedFiducial> face_fiducials(const Face& face) {
    return std::visit(Overloaded{
                          [](const TagFace& tag) { return tag_fiducials(tag.number); },
                          [](const MarkerFace& marker) { return marker_fiducials(marker); },
                          [](const StageFace& stage) { return stage_fiducials(stage); },
                          [](const auto&) { return std::vector<PrintedFiducial>{}; },
                      },
                      face);
}

}  // namespace stripbook::sample_maker
