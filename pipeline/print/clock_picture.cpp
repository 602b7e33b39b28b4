#include "print/clock_picture.h"

#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <vector>

#include "book/clock.h"
#include "errors.h"
#include "print/qr_drawing.h"

namespace stripbook::print {

namespace {

cv::Mat1b with_quiet_zone(const std::string& text) {
    cv::Mat1b modules;
    cv::copyMakeBorder(qr_modules(text, QrLevel::medium), modules, qr_quiet_modules, qr_quiet_modules,
                       qr_quiet_modules, qr_quiet_modules, cv::BORDER_CONSTANT, cv::Scalar(0));
    return modules;
}

void write_below(cv::Mat1b& picture, const std::string& text, int line) {
    constexpr double height_px = 1.2;
    constexpr int thickness_px = 3;
    constexpr int line_px = 60;
    int baseline = 0;
    const cv::Size size = cv::getTextSize(text, cv::FONT_HERSHEY_SIMPLEX, height_px, thickness_px, &baseline);
    cv::putText(picture, text, {(picture.cols - size.width) / 2, picture.cols + line * line_px},
                cv::FONT_HERSHEY_SIMPLEX, height_px, cv::Scalar(0), thickness_px, cv::LINE_AA);
}

}  // namespace

std::string clock_text(std::int64_t utc_s) {
    const auto words = book::time_words(static_cast<double>(utc_s));
    if (!words) {
        throw OutsideError("this computer's clock is out of every calendar: set it first");
    }
    return "TIME " + *words + "Z";
}

std::string clock_picture(std::int64_t utc_s) {
    constexpr int module_px = 24;
    constexpr int words_px = 140;
    const std::string text = clock_text(utc_s);
    const cv::Mat1b modules = with_quiet_zone(text);
    cv::Mat1b code;
    cv::resize(1 - modules, code, {}, module_px, module_px, cv::INTER_NEAREST);
    cv::Mat1b picture;
    cv::copyMakeBorder(code * 255, picture, 0, words_px, 0, 0, cv::BORDER_CONSTANT, cv::Scalar(255));
    write_below(picture, text.substr(5, 10) + " " + text.substr(16, 8) + " UTC", 0);
    write_below(picture, "right at this second only", 1);
    std::vector<unsigned char> bytes;
    cv::imencode(".png", picture, bytes);
    return {bytes.begin(), bytes.end()};
}

std::string clock_lines(std::int64_t utc_s) {
    const cv::Mat1b modules = with_quiet_zone(clock_text(utc_s));
    const std::string black_on_white = "\x1b[30;107m";
    std::string lines;
    for (int row = 0; row < modules.rows; row += 2) {
        lines += black_on_white;
        for (int column = 0; column < modules.cols; ++column) {
            const bool upper = modules(row, column) != 0;
            const bool lower = row + 1 < modules.rows && modules(row + 1, column) != 0;
            lines += upper && lower ? "\u2588" : upper ? "\u2580" : lower ? "\u2584" : " ";
        }
        lines += "\x1b[0m\n";
    }
    return lines;
}

}  // namespace stripbook::print
