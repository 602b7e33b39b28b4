#include "print/qr_drawing.h"

#include <ZXing/BarcodeFormat.h>
#include <ZXing/BitMatrix.h>
#include <ZXing/MultiFormatWriter.h>
#include <fmt/format.h>

#include "errors.h"

namespace stripbook::print {

namespace {

ZXing::BitMatrix modules_of(const std::string& text) {
    // ZXing-cpp's scale of 0 to 8 divides QR codes' four levels: 5 and 6 are Q.
    constexpr int level_q = 6;
    try {
        return ZXing::MultiFormatWriter(ZXing::BarcodeFormat::QRCode)
            .setEccLevel(level_q)
            .setMargin(0)
            .encode(text, 0, 0);
    } catch (const std::exception&) {
        throw WrongUse(fmt::format("\"{}\" does not fit into a QR code; use a shorter text", text));
    }
}

}  // namespace

std::vector<BoxMm> qr_rectangles(const std::string& text, const BoxMm& box) {
    const ZXing::BitMatrix modules = modules_of(text);
    const double module = box.width / (modules.width() + 2 * qr_quiet_modules);
    std::vector<BoxMm> out;
    for (int row = 0; row < modules.height(); ++row) {
        for (int column = 0; column < modules.width(); ++column) {
            const int first = column;
            while (column < modules.width() && modules.get(column, row)) {
                ++column;
            }
            if (column > first) {
                out.push_back({box.x + (qr_quiet_modules + first) * module,
                               box.y + (qr_quiet_modules + row) * module, (column - first) * module, module});
            }
        }
    }
    return out;
}

}  // namespace stripbook::print
