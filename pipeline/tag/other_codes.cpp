#include "tag/other_codes.h"

#include <ZXing/ReadBarcode.h>

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <optional>
#include <stdexcept>

namespace stripbook::tag {

namespace {

// The library's positions are counted from pixel corners.
cv::Point2d from_library_frame(const ZXing::PointI& p) {
    return {p.x - 0.5, p.y - 0.5};
}

// One format and one symbol a call: Debian's build of the library has its assertions on, and looking for
// several linear codes in one go can end the process on one of them.
std::optional<OtherCode> read_one(const cv::Mat& grey, ZXing::BarcodeFormat format, const char* symbology) {
    ZXing::DecodeHints hints;
    hints.setFormats(format);
    hints.setTryHarder(true);
    hints.setTryRotate(true);
    hints.setMaxNumberOfSymbols(1);
    const ZXing::ImageView view(grey.data, grey.cols, grey.rows, ZXing::ImageFormat::Lum,
                                static_cast<int>(grey.step));
    const ZXing::Result result = ZXing::ReadBarcode(view, hints);
    if (!result.isValid()) {
        return std::nullopt;
    }
    const auto& p = result.position();
    return OtherCode{result.text(),
                     symbology,
                     {from_library_frame(p.topLeft()), from_library_frame(p.topRight()),
                      from_library_frame(p.bottomRight()), from_library_frame(p.bottomLeft())}};
}

// Paints over where a code was read, so that the next look finds another. A linear code is read on a few of
// its lines, anywhere between the ends of its bars: they are taken to be at most half as tall as it is long
// (common practice, no source).
void paint_over(cv::Mat& grey, const OtherCode& code) {
    const cv::Point2d along = code.corners[1] - code.corners[0];
    const double length = std::max(1.0, cv::norm(along));
    const cv::Point2d across(-along.y / length, along.x / length);
    const double margin_px = length / 2;
    const cv::Point2d end = along / length * 4;
    const std::array<cv::Point2d, 4> grown{
        code.corners[0] - across * margin_px - end, code.corners[1] - across * margin_px + end,
        code.corners[2] + across * margin_px + end, code.corners[3] + across * margin_px - end};
    std::array<cv::Point, 4> whole;
    std::transform(grown.begin(), grown.end(), whole.begin(),
                   [](const cv::Point2d& p) { return cv::Point(cvRound(p.x), cvRound(p.y)); });
    cv::fillConvexPoly(grey, whole.data(), static_cast<int>(whole.size()), cv::Scalar(255));
}

// Where the picture is as busy as a printed code, largest first. The library finds a Data Matrix only when a
// line through the picture's centre crosses it, so each is handed to it alone, in the middle. Looked for in
// the picture reduced to this long side, where modules must be narrower than 7 pixels.
std::vector<cv::Rect> busy_places(const cv::Mat& grey, double small_side_px) {
    constexpr int least_contrast = 50;
    constexpr int least_side_px = 10;  // of the small picture: a code of 10 modules needs more than that
    constexpr std::size_t most_places = 20;
    const double scale = std::min(1.0, small_side_px / std::max(grey.cols, grey.rows));
    cv::Mat busy;
    cv::resize(grey, busy, {}, scale, scale, cv::INTER_AREA);
    cv::morphologyEx(busy, busy, cv::MORPH_GRADIENT, cv::getStructuringElement(cv::MORPH_RECT, {3, 3}));
    cv::threshold(busy, busy, least_contrast, 255, cv::THRESH_BINARY);
    cv::morphologyEx(busy, busy, cv::MORPH_CLOSE, cv::getStructuringElement(cv::MORPH_RECT, {7, 7}));
    cv::morphologyEx(busy, busy, cv::MORPH_OPEN, cv::getStructuringElement(cv::MORPH_RECT, {9, 9}));
    cv::Mat labels;
    cv::Mat stats;
    cv::Mat centres;
    const int count = cv::connectedComponentsWithStats(busy, labels, stats, centres);
    std::vector<cv::Rect> places;
    for (int i = 1; i < count; ++i) {
        const cv::Rect box(stats.at<int>(i, cv::CC_STAT_LEFT), stats.at<int>(i, cv::CC_STAT_TOP),
                           stats.at<int>(i, cv::CC_STAT_WIDTH), stats.at<int>(i, cv::CC_STAT_HEIGHT));
        if (std::min(box.width, box.height) >= least_side_px) {
            const int margin = std::max(box.width, box.height) / 4;
            const cv::Rect2d grown(box.x - margin, box.y - margin, box.width + 2 * margin,
                                   box.height + 2 * margin);
            const cv::Rect full(cvRound(grown.x / scale), cvRound(grown.y / scale),
                                cvRound(grown.width / scale), cvRound(grown.height / scale));
            places.push_back(full & cv::Rect({0, 0}, grey.size()));
        }
    }
    std::sort(places.begin(), places.end(),
              [](const cv::Rect& one, const cv::Rect& other) { return one.area() > other.area(); });
    places.resize(std::min(places.size(), most_places));
    return places;
}

bool seen_already(const std::vector<OtherCode>& codes, const OtherCode& code) {
    return std::any_of(codes.begin(), codes.end(), [&](const OtherCode& other) {
        return other.text == code.text &&
               cv::norm(other.corners[0] - code.corners[0]) < cv::norm(code.corners[1] - code.corners[0]);
    });
}

void read_data_matrices(const cv::Mat& grey, std::vector<OtherCode>& codes) {
    std::vector<cv::Rect> places = busy_places(grey, 1000);
    const std::vector<cv::Rect> of_coarse_codes = busy_places(grey, 300);
    places.insert(places.end(), of_coarse_codes.begin(), of_coarse_codes.end());
    for (const cv::Rect& place : places) {
        auto code = read_one(grey(place), ZXing::BarcodeFormat::DataMatrix, "Data Matrix");
        if (!code) {
            continue;
        }
        for (auto& corner : code->corners) {
            corner += cv::Point2d(place.tl());
        }
        if (seen_already(codes, *code)) {
            continue;
        }
        codes.push_back(*code);
        if (codes.size() == static_cast<std::size_t>(most_other_codes)) {
            return;
        }
    }
}

std::vector<OtherCode> read_linear(cv::Mat grey) {
    std::vector<OtherCode> codes;
    for (int i = 0; i < most_other_codes; ++i) {
        const auto code = read_one(grey, ZXing::BarcodeFormat::Code128, "Code 128");
        if (!code) {
            break;
        }
        paint_over(grey, *code);
        codes.push_back(*code);
    }
    return codes;
}

}  // namespace

std::vector<OtherCode> read_other_codes(const cv::Mat& grey, const std::vector<std::string>& known_texts) {
    if (grey.type() != CV_8UC1) {
        throw std::invalid_argument("read_other_codes takes a grey picture of 8 bits");
    }
    std::vector<OtherCode> codes;
    read_data_matrices(grey, codes);
    const std::vector<OtherCode> linear = read_linear(grey.clone());
    std::copy_if(linear.begin(), linear.end(), std::back_inserter(codes), [&](const OtherCode& code) {
        return std::find(known_texts.begin(), known_texts.end(), code.text) != known_texts.end();
    });
    return codes;
}

}  // namespace stripbook::tag
