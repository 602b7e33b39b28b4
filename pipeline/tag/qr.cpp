#include "tag/qr.h"

#include <ZXing/ReadBarcode.h>

#include <stdexcept>

namespace stripbook::tag {

namespace {

// The library's positions are corners of the sampled grid rounded to whole pixels, counted from pixel
// corners.
cv::Point2d from_library_frame(const ZXing::PointI& p) {
    return {p.x - 0.5, p.y - 0.5};
}

}  // namespace

cv::Point2d QrCode::centre() const {
    return (corners[0] + corners[1] + corners[2] + corners[3]) / 4;
}

std::vector<QrCode> read_qr_codes(const cv::Mat& grey) {
    if (grey.type() != CV_8UC1) {
        throw std::invalid_argument("read_qr_codes takes a grey picture of 8 bits");
    }
    ZXing::DecodeHints hints;
    hints.setFormats(ZXing::BarcodeFormat::QRCode);
    hints.setTryHarder(true);
    hints.setTryRotate(true);
    const ZXing::ImageView view(grey.data, grey.cols, grey.rows, ZXing::ImageFormat::Lum,
                                static_cast<int>(grey.step));
    std::vector<QrCode> codes;
    for (const auto& result : ZXing::ReadBarcodes(view, hints)) {
        if (!result.isValid()) {
            continue;
        }
        const auto& p = result.position();
        codes.push_back({result.text(),
                         {from_library_frame(p.topLeft()), from_library_frame(p.topRight()),
                          from_library_frame(p.bottomRight()), from_library_frame(p.bottomLeft())}});
    }
    return codes;
}

}  // namespace stripbook::tag
