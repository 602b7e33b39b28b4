#include "fiducial/find.h"

extern "C" {
#include <apriltag/apriltag.h>
#include <apriltag/tag25h9.h>
#include <apriltag/tag36h11.h>
}

#include <memory>
#include <stdexcept>

namespace stripbook::fiducial {

namespace {

// How many wrong bits are forgiven. 36h11 keeps 11 bits between any two identities; 25h9 has so few bits that
// two forgiven ones let one random square in 700 pass (35 identities x 326 words x 4 turns of 2^25), one lets
// one in 9,000.
constexpr int forgiven_36h11 = 2;
constexpr int forgiven_25h9 = 1;

// One detector with both families, made once a process: building the tables of 36h11 takes some milliseconds.
class Detector {
  public:
    Detector() : detector_(apriltag_detector_create()), far_(tag36h11_create()), near_(tag25h9_create()) {
        apriltag_detector_add_family_bits(detector_, far_, forgiven_36h11);
        apriltag_detector_add_family_bits(detector_, near_, forgiven_25h9);
        detector_->nthreads = 1;  // the workers are the parallelism
        detector_->quad_decimate = 1;
        detector_->quad_sigma = 0;
    }
    Detector(const Detector&) = delete;
    Detector& operator=(const Detector&) = delete;
    ~Detector() {
        apriltag_detector_destroy(detector_);
        tag36h11_destroy(far_);
        tag25h9_destroy(near_);
    }

    [[nodiscard]] bool is_far(const apriltag_family_t* family) const { return family == far_; }

    zarray_t* detect(const cv::Mat& grey, bool refine) {
        detector_->refine_edges = refine ? 1 : 0;
        image_u8_t image{grey.cols, grey.rows, static_cast<int>(grey.step), grey.data};
        return apriltag_detector_detect(detector_, &image);
    }

  private:
    apriltag_detector_t* detector_;
    apriltag_family_t* far_;
    apriltag_family_t* near_;
};

PointPx from_library_frame(const double (&p)[2]) {
    return {p[0] - 0.5, p[1] - 0.5};
}

Fiducial from_detection(const apriltag_detection_t& seen, bool is_far) {
    Fiducial f;
    f.family = is_far ? Family::tag36h11 : Family::tag25h9;
    f.identity = seen.id;
    f.bits_corrected = seen.hamming;
    f.centre = from_library_frame(seen.c);
    // The library lists bottom left, bottom right, top right, top left of its own drawing; ours is that
    // turned by half.
    for (std::size_t i = 0; i < 4; ++i) {
        f.corners[i] = from_library_frame(seen.p[(5 - i) % 4]);
    }
    return f;
}

}  // namespace

double Fiducial::side_px() const {
    double sum = 0;
    for (std::size_t i = 0; i < 4; ++i) {
        sum += cv::norm(corners[(i + 1) % 4] - corners[i]);
    }
    return sum / 4;
}

std::vector<Fiducial> find_fiducials(const cv::Mat& grey, bool refine) {
    if (grey.type() != CV_8UC1) {
        throw std::invalid_argument("find_fiducials takes a grey picture of 8 bits");
    }
    // The library's gradient search reads 4 x 4 blocks; smaller pictures hold no fiducial anyway.
    constexpr int smallest = 16;
    if (grey.cols < smallest || grey.rows < smallest) {
        return {};
    }
    static Detector detector;
    const std::unique_ptr<zarray_t, decltype(&apriltag_detections_destroy)> seen(
        detector.detect(grey, refine), &apriltag_detections_destroy);
    std::vector<Fiducial> found;
    for (int i = 0; i < zarray_size(seen.get()); ++i) {
        apriltag_detection_t* detection = nullptr;
        zarray_get(seen.get(), i, static_cast<void*>(&detection));
        found.push_back(from_detection(*detection, detector.is_far(detection->family)));
    }
    return found;
}

}  // namespace stripbook::fiducial
