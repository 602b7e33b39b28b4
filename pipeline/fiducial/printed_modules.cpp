#include "fiducial/printed_modules.h"

#include <fmt/format.h>

#include <cstdlib>
#include <memory>

#include "errors.h"

extern "C" {
#include <apriltag/apriltag.h>
#include <apriltag/tag25h9.h>
#include <apriltag/tag36h11.h>
}

namespace stripbook::fiducial {

namespace {

apriltag_family_t& library_family(Family family) {
    using Owned = std::unique_ptr<apriltag_family_t, void (*)(apriltag_family_t*)>;
    static const Owned tag36h11(tag36h11_create(), tag36h11_destroy);
    static const Owned tag25h9(tag25h9_create(), tag25h9_destroy);
    return family == Family::tag36h11 ? *tag36h11 : *tag25h9;
}

// As the library's image_u8_destroy, which Debian's build does not export.
void free_image(image_u8_t* image) {
    std::free(image->buf);
    std::free(image);
}

}  // namespace

cv::Mat1b printed_modules(Family family, int identity) {
    apriltag_family_t& of = library_family(family);
    if (identity < 0 || identity >= static_cast<int>(of.ncodes)) {
        throw WrongUse(fmt::format("fiducial {} is not in family {}: there are 0 to {}", identity, of.name,
                                   of.ncodes - 1));
    }
    // The library's drawing carries the white border too.
    const std::unique_ptr<image_u8_t, void (*)(image_u8_t*)> drawn(apriltag_to_image(&of, identity),
                                                                   free_image);
    constexpr int middle_grey = 128;
    const int border = (of.total_width - of.width_at_border) / 2;
    cv::Mat1b modules(of.width_at_border, of.width_at_border);
    for (int y = 0; y < modules.rows; ++y) {
        for (int x = 0; x < modules.cols; ++x) {
            const uint8_t grey = drawn->buf[(y + border) * drawn->stride + x + border];
            // Half a turn: what upright means (find.h).
            modules(modules.rows - 1 - y, modules.cols - 1 - x) = grey < middle_grey ? 1 : 0;
        }
    }
    return modules;
}

cv::Mat1b turned_clockwise(const cv::Mat1b& modules, int quarters) {
    constexpr int full_turn = 4;
    cv::Mat1b turned = modules.clone();
    for (int i = 0; i < ((quarters % full_turn) + full_turn) % full_turn; ++i) {
        cv::rotate(turned.clone(), turned, cv::ROTATE_90_CLOCKWISE);
    }
    return turned;
}

}  // namespace stripbook::fiducial
