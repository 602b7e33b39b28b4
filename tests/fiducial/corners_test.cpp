#include <catch2/catch.hpp>
#include <cmath>

#include "fiducial/find.h"
#include "sample_maker/dice.h"
#include "sample_maker/random_pose.h"
#include "sample_maker/scene.h"

using namespace stripbook;
using namespace stripbook::sample_maker;

namespace {

struct Judged {
    double sum = 0;
    int corners = 0;
    int printed = 0;
    [[nodiscard]] double rms_px() const { return std::sqrt(sum / corners); }
};

// Found corners against those of the camera model that drew the picture.
void judge(const Scene& scene, const Item& item, Judged& judged) {
    const auto found = fiducial::find_fiducials(picture_of(scene));
    for (const auto& printed : face_fiducials(item.face)) {
        ++judged.printed;
        for (const auto& f : found) {
            const auto first = *pixel_from_face(scene.camera, item, printed.corners_mm[0]);
            if (f.identity != printed.identity || cv::norm(f.corners[0] - first) > 3) {
                continue;
            }
            for (std::size_t i = 0; i < 4; ++i) {
                const cv::Point2d off =
                    f.corners[i] - *pixel_from_face(scene.camera, item, printed.corners_mm[i]);
                judged.sum += off.dot(off);
                ++judged.corners;
            }
        }
    }
}

Judged judged(const Face& face, double px_per_mm, int pictures) {
    Dice dice(5);
    Judged all;
    for (int i = 0; i < pictures; ++i) {
        Scene scene;
        scene.camera = plain_camera({700, 560});
        scene.blur_sigma_px = 0.6;
        scene.noise_sigma = 2;
        scene.seed = dice.seed();
        Item item{face, {}};
        item.camera_from_plane = random_pose(scene.camera, printed_size_mm(item), {px_per_mm, 25}, dice);
        scene.items.push_back(item);
        judge(scene, item, all);
    }
    return all;
}

}  // namespace

TEST_CASE("Corners are right to a twentieth of a pixel where measuring needs them", "[fiducial]") {
    const auto tag = number::TagNumber(number::BookCode::from_typed("PET"), 417);
    const std::vector<Face> faces{TagFace{tag, "", ""}, MarkerFace{"pocket", 1}};
    for (const Face& face : faces) {
        for (const double px_per_mm : {3.0, 4.0}) {
            const Judged all = judged(face, px_per_mm, 5);
            CHECK(all.corners == 4 * all.printed);
            CHECK(all.rms_px() < 0.05);
        }
    }
}
