#include "print/printed_codes.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <memory>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <sstream>

#include "print/outside_tools.h"
#include "scratch_folder.h"

extern "C" {
#include <apriltag/apriltag.h>
#include <apriltag/tag25h9.h>
#include <apriltag/tag36h11.h>
}

namespace stripbook::test {

namespace {

constexpr double mm_per_inch = 25.4;

// A 600 dpi page is 35 megapixels: half of it keeps 12 pixels a millimetre, and corners to a tenth of one.
constexpr int fine_enough_dpi = 300;

}  // namespace

cv::Point2d SeenFiducial::centre_mm() const {
    return (corners_mm[0] + corners_mm[1] + corners_mm[2] + corners_mm[3]) * 0.25;
}

std::vector<SeenFiducial> fiducials_on(const cv::Mat& page, int dots_per_inch) {
    cv::Mat half;
    const double share = std::min(1.0, static_cast<double>(fine_enough_dpi) / dots_per_inch);
    cv::resize(page, half, {}, share, share, cv::INTER_AREA);
    const double mm_per_px = mm_per_inch / dots_per_inch * page.cols / half.cols;
    using Detector = std::unique_ptr<apriltag_detector_t, void (*)(apriltag_detector_t*)>;
    const Detector detector(apriltag_detector_create(), apriltag_detector_destroy);
    apriltag_family_t* on_tags = tag36h11_create();
    apriltag_family_t* on_markers = tag25h9_create();
    apriltag_detector_add_family(detector.get(), on_tags);
    apriltag_detector_add_family(detector.get(), on_markers);
    detector->quad_decimate = 1;
    image_u8_t image{half.cols, half.rows, static_cast<int32_t>(half.step), half.data};
    zarray_t* found = apriltag_detector_detect(detector.get(), &image);
    std::vector<SeenFiducial> seen;
    for (int i = 0; i < zarray_size(found); ++i) {
        apriltag_detection_t* one = nullptr;
        zarray_get(found, i, &one);
        SeenFiducial fiducial{one->family->name, one->id, {}};
        for (std::size_t corner = 0; corner < 4; ++corner) {
            // The library counts from pixel corners, as millimetres of a page do. Its corners of a drawing
            // turned by half begin at what is our bottom right.
            const double* p = one->p[(5 - corner) % 4];
            fiducial.corners_mm[corner] = {p[0] * mm_per_px, p[1] * mm_per_px};
        }
        seen.push_back(fiducial);
    }
    apriltag_detections_destroy(found);
    apriltag_detector_clear_families(detector.get());
    tag36h11_destroy(on_tags);
    tag25h9_destroy(on_markers);
    return seen;
}

std::vector<std::string> qr_codes_in(const cv::Mat& page, int dots_per_inch, const cv::Rect2d& box_mm) {
    const ScratchFolder scratch;
    const double px_per_mm = dots_per_inch / mm_per_inch;
    const cv::Rect box(cvRound(box_mm.x * px_per_mm), cvRound(box_mm.y * px_per_mm),
                       cvRound(box_mm.width * px_per_mm), cvRound(box_mm.height * px_per_mm));
    const std::string file = (scratch / "codes.pgm").string();
    // zbar finds codes by scan lines and likes modules of a few pixels.
    constexpr double share = 0.35;
    cv::Mat smaller;
    cv::resize(page(box & cv::Rect({0, 0}, page.size())), smaller, {}, share, share, cv::INTER_AREA);
    REQUIRE(cv::imwrite(file, smaller));
    const ToolAnswer answer = run_tool({"zbarimg", "-q", "--raw", "-Sdisable", "-Sqrcode.enable", file});
    std::vector<std::string> texts;
    std::istringstream lines(answer.output);
    for (std::string line; std::getline(lines, line);) {
        texts.push_back(line);
    }
    std::sort(texts.begin(), texts.end());
    return texts;
}

int dark_pixels(const cv::Mat& page, int dots_per_inch, const cv::Rect2d& box_mm) {
    const double px_per_mm = dots_per_inch / mm_per_inch;
    const cv::Rect box(cvCeil(box_mm.x * px_per_mm), cvCeil(box_mm.y * px_per_mm),
                       cvFloor(box_mm.width * px_per_mm) - 1, cvFloor(box_mm.height * px_per_mm) - 1);
    constexpr int nearly_white = 250;
    return cv::countNonZero(page(box & cv::Rect({0, 0}, page.size())) < nearly_white);
}

}  // namespace stripbook::test
