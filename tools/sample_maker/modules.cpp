#include "sample_maker/modules.h"

#include <ZXing/BitMatrix.h>
#include <ZXing/MultiFormatWriter.h>
#include <fmt/format.h>

#include <cstdlib>
#include <memory>

#include "errors.h"

extern "C" {
#include <apriltag/apriltag.h>
#include <apriltag/tag25h9.h>
#include <apriltag/tag36h11.h>
}

namespace stripbook::sample_maker {

namespace {

const apriltag_family_t& family_of(FiducialFamily family) {
    using Owned = std::unique_ptr<apriltag_family_t, void (*)(apriltag_family_t*)>;
    static const Owned tag36h11(tag36h11_create(), tag36h11_destroy);
    static const Owned tag25h9(tag25h9_create(), tag25h9_destroy);
    return family == FiducialFamily::tag36h11 ? *tag36h11 : *tag25h9;
}

// As the library's image_u8_destroy, which Debian's build does not export.
void free_image(image_u8_t* image) {
    std::free(image->buf);
    std::free(image);
}

}  // namespace

Modules fiducial_modules(FiducialFamily family, int identity) {
    const apriltag_family_t& of = family_of(family);
    if (identity < 0 || identity >= static_cast<int>(of.ncodes)) {
        throw WrongUse(
            fmt::format("Fiducial {} is not in family {}: give 0 to {}.", identity, of.name, of.ncodes - 1));
    }
    // The library's drawing carries the white border too; the const_cast is its C signature, it only reads.
    const std::unique_ptr<image_u8_t, void (*)(image_u8_t*)> drawn(
        apriltag_to_image(const_cast<apriltag_family_t*>(&of), identity), free_image);
    const int border = (of.total_width - of.width_at_border) / 2;
    Modules modules(of.width_at_border, of.width_at_border);
    for (int y = 0; y < modules.rows; ++y) {
        for (int x = 0; x < modules.cols; ++x) {
            const uint8_t grey = drawn->buf[(y + border) * drawn->stride + x + border];
            // Half a turn: see the header.
            modules(modules.rows - 1 - y, modules.cols - 1 - x) = grey < 128 ? 1 : 0;
        }
    }
    return modules;
}

Modules turned_clockwise(const Modules& modules, int quarters) {
    Modules turned = modules.clone();
    for (int i = 0; i < ((quarters % 4) + 4) % 4; ++i) {
        cv::rotate(turned.clone(), turned, cv::ROTATE_90_CLOCKWISE);
    }
    return turned;
}

Modules qr_modules(const std::string& text, QrLevel level) {
    // ZXing's writer counts levels 0 to 8 over L, M, Q, H.
    const int ecc = level == QrLevel::quartile ? 5 : 3;
    try {
        const ZXing::BitMatrix bits = ZXing::MultiFormatWriter(ZXing::BarcodeFormat::QRCode)
                                          .setMargin(0)
                                          .setEccLevel(ecc)
                                          .encode(text, 0, 0);
        Modules modules(bits.height(), bits.width());
        for (int y = 0; y < modules.rows; ++y) {
            for (int x = 0; x < modules.cols; ++x) {
                modules(y, x) = bits.get(x, y) ? 1 : 0;
            }
        }
        return modules;
    } catch (const std::exception&) {
        throw WrongUse(
            fmt::format("A text of {} bytes does not fit a QR code: give a shorter one.", text.size()));
    }
}

}  // namespace stripbook::sample_maker
