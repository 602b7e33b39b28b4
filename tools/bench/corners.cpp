#include <fmt/format.h>

#include <cmath>

#include "bench/tables.h"
#include "fiducial/find.h"
#include "number/marker_layout.h"
#include "sample_maker/dice.h"
#include "sample_maker/random_pose.h"
#include "sample_maker/scene.h"

namespace stripbook::bench {

namespace {

using namespace sample_maker;
using fiducial::Family;

struct Error {
    double sum = 0;
    double worst = 0;
    int corners = 0;
    int fiducials = 0;
    int printed = 0;
    [[nodiscard]] double rms_px() const { return corners > 0 ? std::sqrt(sum / corners) : 0; }
};

// The found corners of one printed fiducial against where the camera model puts them.
void judge(const std::vector<fiducial::Fiducial>& found, Family family, const PrintedFiducial& printed,
           const Scene& scene, const Item& item, Error& error) {
    ++error.printed;
    std::array<cv::Point2d, 4> truth;
    for (std::size_t i = 0; i < 4; ++i) {
        truth[i] = *pixel_from_face(scene.camera, item, printed.corners_mm[i]);
    }
    for (const auto& f : found) {
        if (f.family != family || f.identity != printed.identity || cv::norm(f.corners[0] - truth[0]) > 5) {
            continue;
        }
        ++error.fiducials;
        for (std::size_t i = 0; i < 4; ++i) {
            const cv::Point2d off = f.corners[i] - truth[i];
            error.sum += off.dot(off);
            error.worst = std::max(error.worst, cv::norm(off));
            ++error.corners;
        }
        return;
    }
}

Error corners_of(bool marker, double px_per_mm, double tilt, int pictures, std::uint64_t seed) {
    Dice dice(seed);
    Error error;
    for (int i = 0; i < pictures; ++i) {
        Scene scene;
        scene.camera = plain_camera({1000, 800});
        scene.background.grey = dice.between(60, 180);
        scene.blur_sigma_px = 0.6;
        scene.noise_sigma = 2;
        scene.seed = dice.seed();
        const auto number = number::TagNumber(number::BookCode::from_typed("PET"), dice.whole(1, 99999));
        const Face face = marker ? Face(MarkerFace{"pocket", 1}) : Face(TagFace{number, "", ""});
        Item item{face, {}};
        item.camera_from_plane = random_pose(scene.camera, printed_size_mm(item), {px_per_mm, tilt}, dice);
        scene.items.push_back(item);
        const auto found = fiducial::find_fiducials(picture_of(scene));
        for (const auto& printed : face_fiducials(face)) {
            judge(found, marker ? Family::tag25h9 : Family::tag36h11, printed, scene, item, error);
        }
    }
    return error;
}

}  // namespace

void print_corners(int pictures_a_point, std::uint64_t seed) {
    fmt::print("\nCorners: noise 2 grey levels, blur 0.6 px, tilt to 25 degrees, {} pictures a point\n",
               pictures_a_point);
    fmt::print("                  px/mm   RMS px   worst px   found\n");
    for (const bool marker : {false, true}) {
        for (const double px_per_mm : {1.0, 1.5, 2.0, 3.0, 4.0, 6.0}) {
            const Error e = corners_of(marker, px_per_mm, 25, pictures_a_point, seed);
            fmt::print("{:>16} {:6.1f} {:8.3f} {:10.3f}   {} of {}\n", marker ? "pocket marker" : "tag",
                       px_per_mm, e.rms_px(), e.worst, e.fiducials, e.printed);
            std::fflush(stdout);
        }
    }
}

}  // namespace stripbook::bench
