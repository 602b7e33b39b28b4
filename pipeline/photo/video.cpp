#include "photo/video.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <new>
#include <opencv2/imgproc.hpp>
#include <opencv2/videoio.hpp>

#include "photo/one_line.h"
#include "photo/picture.h"
#include "photo/video_length.h"

namespace stripbook::photo {

namespace {

using Clock = std::chrono::steady_clock;

constexpr double black_below = 16;  // mean grey level: the black of studio video range (ITU-R BT.601)
constexpr double fastest_frames_per_s = 240;

// A stranger's file may be a playlist under a video's name: only files, and only containers that cameras
// write.
void allow_only_camera_files() {
    setenv("OPENCV_FFMPEG_CAPTURE_OPTIONS", "protocol_whitelist;file|format_whitelist;mov,avi,mpegts", 1);
}

cv::Mat grey_of(const cv::Mat& frame) {
    if (frame.channels() == 1) {
        return frame.clone();
    }
    cv::Mat grey;
    cv::cvtColor(frame, grey, cv::COLOR_BGR2GRAY);
    return grey;
}

cv::Mat poster_of(const cv::Mat& frame, int long_side_px) {
    cv::Mat colour = frame;
    if (frame.channels() == 1) {
        cv::cvtColor(frame, colour, cv::COLOR_GRAY2BGR);
    }
    const double scale = static_cast<double>(long_side_px) / std::max(frame.cols, frame.rows);
    if (scale >= 1) {
        return colour.clone();
    }
    cv::Mat poster;
    cv::resize(colour, poster, {}, scale, scale, cv::INTER_AREA);
    return poster;
}

void keep_frame(const cv::Mat& frame, double at_s, const VideoSampling& sampling, bool& has_poster,
                Video& video) {
    video.frames.push_back({at_s, grey_of(frame)});
    const bool black = cv::mean(video.frames.back().grey)[0] < black_below;
    if (video.poster.empty() || (!has_poster && !black)) {
        video.poster = poster_of(frame, sampling.poster_long_px);
        has_poster = !black;
    }
}

void sample_frames(cv::VideoCapture& capture, const VideoSampling& sampling, Video& video) {
    const auto start = Clock::now();
    const auto most_grabs = static_cast<int>(sampling.seconds * fastest_frames_per_s);
    bool has_poster = false;
    double next_s = 0;
    cv::Mat frame;
    for (int i = 0; i < most_grabs && video.frames.size() < sampling.frames && capture.grab(); ++i) {
        const double at_s = capture.get(cv::CAP_PROP_POS_MSEC) / 1000;
        if (at_s > sampling.seconds) {
            break;
        }
        if (std::chrono::duration<double>(Clock::now() - start).count() > sampling.wall_seconds) {
            video.note = fmt::format("decoding is slow: only its first {:.1f} s were looked at", at_s);
            break;
        }
        if (at_s >= next_s && capture.retrieve(frame) && !frame.empty()) {
            keep_frame(frame, at_s, sampling, has_poster, video);
            next_s += 1 / sampling.frames_per_s;
        }
    }
}

void decode_into(Video& video, const std::string& path, const VideoSampling& sampling) {
    cv::VideoCapture capture;
    // "file:", so that no name is taken for an address. The file's own container turns the frames.
    if (!capture.open("file:" + path, cv::CAP_FFMPEG)) {
        return;
    }
    const double width = capture.get(cv::CAP_PROP_FRAME_WIDTH);
    const double height = capture.get(cv::CAP_PROP_FRAME_HEIGHT);
    if (width * height > most_pixels) {
        video.fault =
            fmt::format("a video of {:.0f} x {:.0f} pixels is larger than this program reads", width, height);
        return;
    }
    sample_frames(capture, sampling, video);
}

}  // namespace

Video sample_video(const std::string& path, const VideoSampling& sampling) {
    allow_only_camera_files();
    Video video;
    try {
        decode_into(video, path, sampling);
    } catch (const cv::Exception& exception) {
        if (exception.code == cv::Error::StsNoMem) {
            throw std::bad_alloc();
        }
        video.fault = "the video library failed: " + one_line(exception.err);
    }
    const bool cut_short = ends_too_early(path);
    if (video.fault.empty() && cut_short) {
        video.fault = "cut short: the file ends before the video does";
    } else if (video.fault.empty() && video.frames.empty()) {
        video.fault = "not a video this program reads";
    }
    video.whole = video.fault.empty();
    if (!video.frames.empty()) {
        video.size = video.frames.front().grey.size();
    }
    return video;
}

}  // namespace stripbook::photo
