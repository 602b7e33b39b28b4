// Small videos for tests, written by OpenCV's own writer (Motion JPEG).
#pragma once

#include <catch2/catch.hpp>
#include <filesystem>
#include <opencv2/imgproc.hpp>
#include <opencv2/videoio.hpp>
#include <vector>

namespace stripbook::test {

/// One thing that a video shows for some time.
struct Shown {
    cv::Mat picture;  ///< grey or BGR; all of one size
    double seconds = 1;
};

inline void write_video(const std::filesystem::path& file, const std::vector<Shown>& shown) {
    constexpr int frames_per_s = 10;
    cv::VideoWriter writer(file.string(), cv::CAP_FFMPEG, cv::VideoWriter::fourcc('M', 'J', 'P', 'G'),
                           frames_per_s, shown.front().picture.size());
    REQUIRE(writer.isOpened());
    for (const auto& [picture, seconds] : shown) {
        cv::Mat frame = picture;
        if (picture.channels() == 1) {
            cv::cvtColor(picture, frame, cv::COLOR_GRAY2BGR);
        }
        for (int i = 0; i < static_cast<int>(seconds * frames_per_s); ++i) {
            writer.write(frame);
        }
    }
}

}  // namespace stripbook::test
