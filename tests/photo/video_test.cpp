// Videos are written by OpenCV's own writer, then turned and cut by hand.
#include "photo/video.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <opencv2/imgproc.hpp>
#include <opencv2/videoio.hpp>

#include "photo/video_length.h"
#include "scratch_folder.h"

using stripbook::photo::ends_too_early;
using stripbook::photo::sample_video;
using stripbook::photo::Video;
using stripbook::photo::VideoSampling;
using namespace stripbook::test;

namespace {

constexpr int frames_per_s = 10;

// Each frame is as bright as its second: 40 grey levels a second from `first_grey` on.
std::string write_video(const std::filesystem::path& file, double seconds, double first_grey = 40,
                        cv::Size size = {640, 480}, const char* codec = "MJPG") {
    cv::VideoWriter writer(file.string(), cv::CAP_FFMPEG,
                           cv::VideoWriter::fourcc(codec[0], codec[1], codec[2], codec[3]), frames_per_s,
                           size);
    REQUIRE(writer.isOpened());
    for (int i = 0; i < static_cast<int>(seconds * frames_per_s); ++i) {
        writer.write(cv::Mat(size, CV_8UC3, cv::Scalar::all(first_grey + 4.0 * i)));
    }
    writer.release();
    return file.string();
}

void cut(const std::string& file, double share) {
    std::filesystem::resize_file(
        file, static_cast<std::uintmax_t>(share * static_cast<double>(std::filesystem::file_size(file))));
}

}  // namespace

TEST_CASE("Two frames a second of the first six seconds are sampled, each with its time", "[photo][video]") {
    const ScratchFolder scratch;
    for (const char* name : {"a.avi", "a.mov"}) {
        const Video video = sample_video(write_video(scratch / name, 8, 20, {640, 480}, "MJPG"));
        INFO(name << ": " << video.fault);
        CHECK(video.whole);
        CHECK(video.size == cv::Size(640, 480));
        REQUIRE(video.frames.size() == 12);
        for (std::size_t i = 0; i < 10; ++i) {
            const auto& frame = video.frames[i];
            CHECK(frame.at_s == Approx(0.5 * static_cast<double>(i)).margin(0.11));
            // What was drawn: 20 + 4 a frame; JPEG keeps flat grey to a level or two.
            CHECK(cv::mean(frame.grey)[0] == Approx(20 + 40 * frame.at_s).margin(6));
        }
    }
}

TEST_CASE("The poster is the first frame that is not black, at most as large as asked", "[photo][video]") {
    const ScratchFolder scratch;
    const std::string file = write_video(scratch / "a.avi", 3, 0, {1920, 1080});
    const Video video = sample_video(file);
    CHECK(video.poster.size() == cv::Size(1600, 900));
    CHECK(cv::mean(video.poster)[0] == Approx(20).margin(4));  // the frame at 0.5 s
    VideoSampling small;
    small.poster_long_px = 320;
    CHECK(sample_video(file, small).poster.size() == cv::Size(320, 180));
}

TEST_CASE("Frames come as the video is played, after the container's turn", "[photo][video]") {
    const ScratchFolder scratch;
    const std::string file = write_video(scratch / "a.mov", 1);
    CHECK(sample_video(file).size == cv::Size(640, 480));
    // ISO/IEC 14496-12, 8.3.2: the matrix lies 40 bytes behind the track header's type; a quarter turn.
    std::fstream bytes(file, std::ios::binary | std::ios::in | std::ios::out);
    const std::string whole{std::istreambuf_iterator<char>(bytes), std::istreambuf_iterator<char>()};
    const auto header = whole.find("tkhd");
    REQUIRE(header != std::string::npos);
    bytes.clear();
    bytes.seekp(static_cast<std::streamoff>(header) + 4 + 40);
    bytes << std::string("\0\0\0\0\0\1\0\0\0\0\0\0\xFF\xFF\0\0\0\0\0\0", 20);
    bytes.close();
    const Video turned = sample_video(file);
    CHECK(turned.size == cv::Size(480, 640));
    CHECK(turned.poster.size() == cv::Size(480, 640));
}

TEST_CASE("A short video gives what it has, and a slow one says how far it was looked at", "[photo][video]") {
    const ScratchFolder scratch;
    const std::string file = write_video(scratch / "a.avi", 1);
    CHECK(sample_video(file).frames.size() == 2);
    VideoSampling hasty;
    hasty.wall_seconds = 0;
    const Video video = sample_video(file, hasty);
    CHECK(video.note == "decoding is slow: only its first 0.0 s were looked at");
}

TEST_CASE("A video cut short says so, and what there is of it is still given", "[photo][video]") {
    const ScratchFolder scratch;
    const std::string avi = write_video(scratch / "a.avi", 4);
    CHECK_FALSE(ends_too_early(avi));
    cut(avi, 0.5);
    const Video half = sample_video(avi);
    CHECK_FALSE(half.whole);
    CHECK_THAT(half.fault, Catch::Contains("cut short"));
    CHECK(half.frames.size() >= 2);
    // An MP4 keeps its index at the end: without it nothing decodes.
    const std::string mov = write_video(scratch / "a.mov", 4);
    CHECK_FALSE(ends_too_early(mov));
    cut(mov, 0.5);
    const Video lost = sample_video(mov);
    CHECK_THAT(lost.fault, Catch::Contains("cut short"));
    CHECK(lost.frames.empty());
}

TEST_CASE("What is no video is a fault in words, not an exception", "[photo][video]") {
    const ScratchFolder scratch;
    const std::string file = (scratch / "a.mov").string();
    for (const std::string& bytes : {std::string(), std::string("a letter"), std::string(5000, '\0'),
                                     std::string("#EXTM3U\n#EXTINF:1,\nfile:/etc/hostname\n"),
                                     std::string("ffconcat version 1.0\nfile other.avi\n")}) {
        std::ofstream(file, std::ios::binary) << bytes;
        const Video video = sample_video(file);
        CHECK_FALSE(video.whole);
        CHECK(video.fault == "not a video this program reads");
        CHECK(video.frames.empty());
    }
    CHECK_FALSE(sample_video((scratch / "not there.mov").string()).whole);
}

TEST_CASE("Only the containers that cameras write are opened", "[photo][video]") {
    const ScratchFolder scratch;
    const std::string file = write_video(scratch / "a.mkv", 1);
    CHECK(sample_video(file).fault == "not a video this program reads");
}

TEST_CASE("A video with flipped bytes crashes nothing", "[photo][video]") {
    const ScratchFolder scratch;
    const std::string file = write_video(scratch / "a.mov", 1);
    std::ifstream in(file, std::ios::binary);
    const std::string whole{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    cv::RNG dice(7);
    for (int i = 0; i < 60; ++i) {
        std::string flipped = whole;
        const auto from = i % 2 == 0 ? 0 : static_cast<int>(whole.size()) - 900;
        flipped[static_cast<std::size_t>(from + dice.uniform(0, 900))] ^=
            static_cast<char>(1 << dice.uniform(0, 8));
        std::ofstream(file, std::ios::binary | std::ios::trunc) << flipped;
        const Video video = sample_video(file);
        CHECK(video.whole == video.fault.empty());
    }
}
