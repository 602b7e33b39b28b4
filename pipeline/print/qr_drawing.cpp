#include "print/qr_drawing.h"

#include <ZXing/BarcodeFormat.h>
#include <ZXing/BitMatrix.h>
#include <ZXing/MultiFormatWriter.h>
#include <fmt/format.h>

#include "errors.h"
#include "print/code_drawing.h"

namespace stripbook::print {

cv::Mat1b qr_modules(const std::string& text, QrLevel level) {
    // ZXing-cpp's scale of 0 to 8 divides QR codes' four levels: 3 and 4 are M, 5 and 6 are Q.
    const int library_level = level == QrLevel::quartile ? 6 : 3;
    try {
        const ZXing::BitMatrix bits = ZXing::MultiFormatWriter(ZXing::BarcodeFormat::QRCode)
                                          .setEccLevel(library_level)
                                          .setMargin(0)
                                          .encode(text, 0, 0);
        cv::Mat1b modules(bits.height(), bits.width());
        for (int row = 0; row < modules.rows; ++row) {
            for (int column = 0; column < modules.cols; ++column) {
                modules(row, column) = bits.get(column, row) ? 1 : 0;
            }
        }
        return modules;
    } catch (const std::exception&) {
        throw WrongUse(fmt::format("\"{}\" does not fit into a QR code; use a shorter text", text));
    }
}

std::vector<BoxMm> qr_rectangles(const std::string& text, const BoxMm& box, QrLevel level) {
    const cv::Mat1b modules = qr_modules(text, level);
    const double module = box.width / (modules.cols + 2 * qr_quiet_modules);
    const double quiet = qr_quiet_modules * module;
    return module_rectangles(modules,
                             {box.x + quiet, box.y + quiet, box.width - 2 * quiet, box.height - 2 * quiet});
}

std::vector<BoxMm> qr_rectangles_filling(const std::string& text, const BoxMm& box, QrLevel level) {
    return module_rectangles(qr_modules(text, level), box);
}

}  // namespace stripbook::print
