#include "sample_maker/detect.h"

#include <catch2/catch.hpp>
#include <memory>

extern "C" {
#include <apriltag/apriltag.h>
#include <apriltag/tag25h9.h>
#include <apriltag/tag36h11.h>
}

namespace stripbook::test {

std::vector<Seen> detect(const cv::Mat1b& picture, const std::string& family, bool refine_edges) {
    const bool large = family == "tag36h11";
    const std::unique_ptr<apriltag_family_t, void (*)(apriltag_family_t*)> bits(
        large ? tag36h11_create() : tag25h9_create(), large ? tag36h11_destroy : tag25h9_destroy);
    const std::unique_ptr<apriltag_detector_t, void (*)(apriltag_detector_t*)> detector(
        apriltag_detector_create(), apriltag_detector_destroy);
    detector->quad_decimate = 1;
    detector->refine_edges = refine_edges;
    apriltag_detector_add_family_bits(detector.get(), bits.get(), 0);
    image_u8_t image{picture.cols, picture.rows, static_cast<int>(picture.step), picture.data};
    zarray_t* found = apriltag_detector_detect(detector.get(), &image);
    std::vector<Seen> all;
    for (int i = 0; i < zarray_size(found); ++i) {
        apriltag_detection_t* detection = nullptr;
        zarray_get(found, i, &detection);
        Seen seen{detection->id, {detection->c[0], detection->c[1]}, {}};
        for (std::size_t k = 0; k < 4; ++k) {
            seen.corners[k] = {detection->p[k][0], detection->p[k][1]};
        }
        all.push_back(seen);
    }
    apriltag_detections_destroy(found);
    return all;
}

Seen seen_once(const std::vector<Seen>& all, int identity) {
    std::vector<Seen> fitting;
    for (const Seen& seen : all) {
        if (seen.identity == identity) {
            fitting.push_back(seen);
        }
    }
    INFO("fiducial " << identity);
    REQUIRE(fitting.size() == 1);
    return fitting.front();
}

std::array<cv::Point2d, 4> corners_in_our_frame(const Seen& seen) {
    const cv::Point2d half(0.5, 0.5);
    return {seen.corners[1] - half, seen.corners[0] - half, seen.corners[3] - half, seen.corners[2] - half};
}

cv::Point2d centre_in_our_frame(const Seen& seen) {
    return seen.centre - cv::Point2d(0.5, 0.5);
}

}  // namespace stripbook::test
