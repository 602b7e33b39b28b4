#include "sample_maker/truth.h"

#include <fmt/format.h>
#include <openssl/evp.h>

#include <array>
#include <cmath>

#include "errors.h"
#include "sample_maker/outline.h"

namespace stripbook::sample_maker {

namespace {

using nlohmann::json;

double rounded(double value, double steps) {
    return std::round(value * steps) / steps;
}

// Ten-thousandths of a pixel: a hundred times finer than anything is judged by.
template <typename Corners>
json corners_json(const Camera& camera, const Item& item, const Corners& corners_mm) {
    json corners = json::array();
    for (const cv::Point2d& corner : corners_mm) {
        const auto px = pixel_from_face(camera, item, corner);
        if (!px) {
            throw WrongUse("An item reaches behind the camera or out of the lens's field: move it away.");
        }
        corners.push_back({rounded(px->x, 1e4), rounded(px->y, 1e4)});
    }
    return corners;
}

constexpr const char* corners_key = "corners_px_unrotated";

json face_corners_json(const Camera& camera, const Item& item) {
    const cv::Size2d size = face_size_mm(item.face);
    return corners_json(
        camera, item,
        std::array<cv::Point2d, 4>{{{0, 0}, {size.width, 0}, {size.width, size.height}, {0, size.height}}});
}

json fiducials_json(const Camera& camera, const Item& item) {
    json fiducials = json::array();
    for (const PrintedFiducial& fiducial : face_fiducials(item.face)) {
        fiducials.push_back({{"identity", fiducial.identity},
                             {corners_key, corners_json(camera, item, fiducial.corners_mm)}});
    }
    return fiducials;
}

// Adds one item to the list of its kind.
class Sorter {
  public:
    Sorter(const Camera& camera, const Item& item, json& shot) : camera_(camera), item_(item), shot_(shot) {}

    void operator()(const TagFace& tag) const {
        const auto corners = *face_corners_px(camera_, item_.camera_from_plane, printed_size_mm(item_));
        shot_["tags"].push_back(
            {{"payload", tag.number.text()},
             {corners_key, face_corners_json(camera_, item_)},
             {"whole_in_frame", wholly_inside(corners, camera_.size_px, 0)},
             {"px_per_mm", rounded(px_per_mm(corners, printed_size_mm(item_)), 1e4)},
             {"grime", item_.grime},
             {"covered", rounded(covered_share(face_size_mm(item_.face), item_.covers), 1e4)},
             {"fiducials", fiducials_json(camera_, item_)}});
    }
    void operator()(const MarkerFace& marker) const {
        json identities = json::object();
        for (const PrintedFiducial& fiducial : marker_fiducials(marker)) {
            identities[std::to_string(fiducial.identity)] = corners_json(camera_, item_, fiducial.corners_mm);
        }
        shot_["cards"].push_back(
            {{"name", marker.kind},
             {corners_key, face_corners_json(camera_, item_)},
             {"covered", rounded(covered_share(face_size_mm(item_.face), item_.covers), 1e4)},
             {"identities", identities}});
    }
    void operator()(const StageFace& stage) const {
        shot_["stages"].push_back({{"stage", stage.stage},
                                   {corners_key, face_corners_json(camera_, item_)},
                                   {"fiducials", fiducials_json(camera_, item_)}});
    }
    void operator()(const QrFace& qr) const {
        shot_["qr"].push_back({{"text", qr.text}, {corners_key, face_corners_json(camera_, item_)}});
    }
    void operator()(const PictureFace&) const {
        shot_["pages"].push_back({{corners_key, face_corners_json(camera_, item_)}});
    }
    void operator()(const PlainFace& plain) const {
        shot_["parts"].push_back({{"kind", "plate"},
                                  {"w", plain.size_mm.width * item_.print_scale[0]},
                                  {"h", plain.size_mm.height * item_.print_scale[1]},
                                  {"corner", 0},
                                  {"holes", json::array()},
                                  {"thickness", 0},
                                  {corners_key, face_corners_json(camera_, item_)}});
    }

  private:
    const Camera& camera_;
    const Item& item_;
    json& shot_;
};

}  // namespace

json truth_of_shot(const Scene& scene, const std::string& file_bytes, const ShotNotes& notes) {
    const cv::Matx33d& k = scene.camera.matrix;
    json shot{{"file", notes.file},
              {"sha256", sha256_of(file_bytes)},
              {"K", {{k(0, 0), k(0, 1), k(0, 2)}, {k(1, 0), k(1, 1), k(1, 2)}, {k(2, 0), k(2, 1), k(2, 2)}}},
              {"dist", scene.camera.distortion},
              {"orientation", scene.notes.orientation},
              {"belongs_to", notes.belongs_to},
              {"camera", notes.camera},
              {"true_time", notes.true_time},
              {"kind", notes.kind}};
    for (const char* list : {"tags", "cards", "stages", "qr", "parts"}) {
        shot[list] = json::array();
    }
    for (const Item& item : scene.items) {
        std::visit(Sorter(scene.camera, item, shot), item.face);
    }
    return shot;
}

std::string sha256_of(const std::string& bytes) {
    std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
    unsigned int length = 0;
    if (EVP_Digest(bytes.data(), bytes.size(), digest.data(), &length, EVP_sha256(), nullptr) != 1) {
        throw OutsideError("SHA-256 is not available from the OpenSSL library: check its installation.");
    }
    std::string text;
    for (unsigned int i = 0; i < length; ++i) {
        text += fmt::format("{:02x}", digest[i]);
    }
    return text;
}

}  // namespace stripbook::sample_maker
