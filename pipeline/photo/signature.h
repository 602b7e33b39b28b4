// How a photo looks, in a few bytes: its colours, brightness and texture, but not where in the picture they
// lie, since the next photo of the same part is taken nearer or from the side. For telling whether two photos
// may be of one place (link/likeness.h), not for finding pictures.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <string_view>

namespace stripbook::photo {

/// The first byte says whether colours are in it (1) or not (2); the others are roots of shares, 255 a whole
/// picture: of levels of brightness, of hues (with colours only), of degrees of texture. Colours come from
/// the camera's own small picture in the Exif data (`thumbnail`: a JPEG, empty when there is none), which
/// costs next to nothing; without one the photo is seen in grey, unless it is so small that decoding its
/// colours is cheap. `grey`: the whole photo, CV_8UC1. Empty when there is nothing to see. Strangers' bytes:
/// call in a worker.
std::string signature_of(const cv::Mat& grey, std::string_view thumbnail, std::string_view file_bytes);

}  // namespace stripbook::photo
