// What a made photograph shows, exactly, in the shape that every test reads: see truth_of_shot.
#pragma once

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "sample_maker/scene.h"

namespace stripbook::sample_maker {

/// What the pixels do not say.
struct ShotNotes {
    std::string file;                     ///< relative to the folder of truth.json
    std::vector<std::string> belongs_to;  ///< `PET-00417`: the parts that the shot shows
    std::string camera;                   ///< serial number
    std::string true_time;                ///< `2026-03-20T08:58:15.530`
    std::string kind;                     ///< as-removed, as-removed detail, bench, mixed
};

/// One entry of "shots":
///
///     {"file", "sha256", "K", "dist", "orientation", "belongs_to", "camera", "true_time", "kind",
///      "tags":   [{"payload", CORNERS, "whole_in_frame", "px_per_mm", "grime", "covered",
///                  "fiducials": [{"identity", CORNERS}]}],
///      "cards":  [{"name", CORNERS, "covered", "identities": {"4": corners, ...}}],
///      "stages": [{"stage", CORNERS, "fiducials": [{"identity", CORNERS}]}],
///      "qr":     [{"text", CORNERS}],
///      "parts":  [{"kind": "plate", "w", "h", "corner", "holes", "thickness", CORNERS}]}
///
/// CORNERS is "corners_px_unrotated": four [x, y] of the printed face, top left, top right, bottom right,
/// bottom left, in the pixel frame of camera.h, before any EXIF turn. Those of a fiducial are its own: a
/// turned one starts elsewhere. "dist" is k1 k2 p1 p2. "covered" counts covers, not other items lying over
/// it. Lists that are empty stay, so that a reader need not ask.
nlohmann::json truth_of_shot(const Scene& scene, const std::string& file_bytes, const ShotNotes& notes);

/// Lower-case hexadecimal SHA-256.
std::string sha256_of(const std::string& bytes);

}  // namespace stripbook::sample_maker
