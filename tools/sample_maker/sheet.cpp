#include "sample_maker/sheet.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "errors.h"

namespace stripbook::sample_maker {

namespace {

// The pixels that an interval touches along one axis, and the share of each that it covers.
struct Span {
    int first = 0;
    std::vector<double> shares;
};

Span span_of(double from_px, double to_px, int limit) {
    const double from = std::clamp(from_px, 0.0, static_cast<double>(limit));
    const double to = std::clamp(to_px, 0.0, static_cast<double>(limit));
    Span span{static_cast<int>(std::floor(from)), {}};
    for (int i = span.first; i < limit && i < to; ++i) {
        span.shares.push_back(std::min<double>(i + 1, to) - std::max<double>(i, from));
    }
    return span;
}

std::string printable_ascii(const std::string& text) {
    std::string printable = text;
    std::replace_if(
        printable.begin(), printable.end(), [](char c) { return c < ' ' || c > '~'; }, '?');
    return printable;
}

constexpr int font = cv::FONT_HERSHEY_DUPLEX;

}  // namespace

Sheet::Sheet(double width_mm, double height_mm, double px_per_mm) : px_per_mm_(px_per_mm) {
    const double columns = std::ceil(width_mm * px_per_mm - 1e-9);
    const double rows = std::ceil(height_mm * px_per_mm - 1e-9);
    if (!(columns >= 1 && rows >= 1 && columns * rows <= 4e8)) {
        throw WrongUse(fmt::format("A sheet of {} x {} mm at {} px/mm cannot be drawn: give fewer px/mm.",
                                   width_mm, height_mm, px_per_mm));
    }
    picture_ = cv::Mat1b(static_cast<int>(rows), static_cast<int>(columns), uchar{255});
}

void Sheet::ink_rectangle(const cv::Rect2d& box_mm) {
    const double s = px_per_mm_;
    const Span across = span_of(box_mm.x * s, (box_mm.x + box_mm.width) * s, picture_.cols);
    const Span down = span_of(box_mm.y * s, (box_mm.y + box_mm.height) * s, picture_.rows);
    for (std::size_t j = 0; j < down.shares.size(); ++j) {
        uchar* row = picture_.ptr(down.first + static_cast<int>(j)) + across.first;
        for (std::size_t i = 0; i < across.shares.size(); ++i) {
            row[i] = cv::saturate_cast<uchar>(row[i] - 255.0 * down.shares[j] * across.shares[i]);
        }
    }
}

void Sheet::ink_modules(const Modules& modules, number::PointMm centre, double side_mm) {
    const double module = side_mm / modules.cols;
    const double left = centre.x - side_mm / 2;
    const double top = centre.y - side_mm / 2;
    for (int y = 0; y < modules.rows; ++y) {
        for (int x = 0; x < modules.cols;) {
            int end = x;
            while (end < modules.cols && modules(y, end) != 0) {
                ++end;
            }
            if (end > x) {
                ink_rectangle({left + x * module, top + y * module, (end - x) * module, module});
            }
            x = end + 1;
        }
    }
}

void Sheet::ink_text(const std::string& text, const cv::Rect2d& box_mm) {
    const std::string line = printable_ascii(text);
    int baseline = 0;
    constexpr double probe =
        4;  // size the font is measured at: glyph sizes are whole pixels, so not too small
    const cv::Size measured = cv::getTextSize(line, font, probe, 1, &baseline);
    if (measured.width <= 0) {
        return;
    }
    const double height_px = box_mm.height * px_per_mm_;
    const double scale = probe * std::min(box_mm.width * px_per_mm_ / measured.width,
                                          height_px / (measured.height + baseline));
    const int thickness = std::max(1, static_cast<int>(std::lround(scale * 1.6)));
    const double top = box_mm.y * px_per_mm_ + (height_px - (measured.height + baseline) * scale / probe) / 2;
    const cv::Point foot(static_cast<int>(std::lround(box_mm.x * px_per_mm_)),
                         static_cast<int>(std::lround(top + measured.height * scale / probe)));
    cv::putText(picture_, line, foot, font, scale, cv::Scalar(0), thickness, cv::LINE_AA);
}

void Sheet::ink_circle(number::PointMm centre, double diameter_mm) {
    constexpr int fraction_bits = 8;
    constexpr double fraction = 1 << fraction_bits;
    const auto fixed = [&](double px) { return static_cast<int>(std::lround(px * fraction)); };
    const int thickness = std::max(1, static_cast<int>(std::lround(0.2 * px_per_mm_)));
    cv::circle(picture_, {fixed(centre.x * px_per_mm_ - 0.5), fixed(centre.y * px_per_mm_ - 0.5)},
               fixed(diameter_mm / 2 * px_per_mm_), cv::Scalar(0), thickness, cv::LINE_AA, fraction_bits);
}

}  // namespace stripbook::sample_maker
