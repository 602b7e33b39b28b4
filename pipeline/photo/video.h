// The first seconds of a video as pictures. Strangers' bytes: call this in a worker (worker_pool.h).
// Frame: the picture as it is played, after the container's turn; whole numbers are pixel centres, x right,
// y down.
#pragma once

#include <opencv2/core.hpp>
#include <string>
#include <vector>

namespace stripbook::photo {

struct VideoSampling {
    double seconds = 6;         ///< of the video, from its start
    double frames_per_s = 2;    ///< at 0 s, 0.5 s, ...
    std::size_t frames = 12;    ///< at most
    double wall_seconds = 4;    ///< time that decoding may take; checked between two frames
    int poster_long_px = 1600;  ///< long side of the poster, at most
};

struct VideoFrame {
    double at_s = 0;  ///< from the start of the video
    cv::Mat grey;     ///< CV_8UC1, as large as the video
};

struct Video {
    std::vector<VideoFrame> frames;  ///< in the order of time; empty when nothing decodes
    cv::Mat poster;     ///< CV_8UC3 (BGR): the first sampled frame that is not black, else the first
    cv::Size size;      ///< of a frame in pixels
    bool whole = true;  ///< false: the file is cut short, or nothing in it decodes
    std::string fault;  ///< one line in plain words when not whole, without the file's name
    std::string note;   ///< one line when decoding was too slow for all the seconds asked for
};

/// MP4, QuickTime, 3GPP, AVI and MPEG transport streams. A file that does not decode is a fault, not an
/// exception; std::bad_alloc when memory runs out.
Video sample_video(const std::string& path, const VideoSampling& sampling = {});

}  // namespace stripbook::photo
