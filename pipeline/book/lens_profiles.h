// Lens profiles: what the book has worked out about each camera's lens from its scale markers.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <vector>

#include "book/book.h"
#include "book/records.h"

namespace stripbook::book {

/// Of one camera at one focal length and one size of picture. Parameters as docs/book-format.md says.
struct LensRecord {
    CameraId camera;
    std::string camera_words;  ///< "Ferrow FV-20 A10442"; filled on reading
    double focal_length_mm = 0;
    int width_px = 0;
    int height_px = 0;
    double focal_px = 0;
    double centre_x_px = 0;
    double centre_y_px = 0;
    double k1 = 0;
    double k2 = 0;
    std::array<double, 25> covariance{};  ///< row by row: focal length, centre x, centre y, k1, k2
    int photos = 0;
    double residual_rms_px = 0;
    std::string at;  ///< UTC, RFC 3339
};

/// Replaces the profile of the same camera, focal length and size.
void save_lens(Book& book, const LensRecord& lens);
std::vector<LensRecord> all_lenses(const Book& book);
std::optional<LensRecord> find_lens(const Book& book, CameraId camera, double focal_length_mm, int width_px,
                                    int height_px);

}  // namespace stripbook::book
