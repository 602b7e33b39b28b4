#include "bench/measure_read.h"

#include <fstream>
#include <iterator>
#include <opencv2/imgproc.hpp>
#include <string>

#include "errors.h"
#include "photo/metadata.h"
#include "photo/picture.h"

#include "tag/read_picture.h"

namespace stripbook::bench {

namespace {

std::string bytes_of(const std::filesystem::path& file) {
    std::ifstream stream(file, std::ios::binary);
    return {std::istreambuf_iterator<char>(stream), {}};
}

}  // namespace

cv::Mat colour_of(const std::filesystem::path& file) {
    cv::Mat colour = photo::decode_colour(bytes_of(file)).pixels;
    if (colour.empty()) {
        throw BadFile(file.string() + " is no picture that can be decoded.");
    }
    return colour;
}

ReadShot read_shot(const std::filesystem::path& file) {
    ReadShot shot;
    cv::Mat grey = colour_of(file);
    shot.size_px = grey.size();
    if (grey.channels() == 3) {
        cv::cvtColor(grey, grey, cv::COLOR_BGR2GRAY);
    }
    const auto reading = tag::read_picture(grey, number::BookCode::from_typed("PET"));
    shot.fiducials = reading.fiducials;
    for (const auto& tag : reading.tags.tags) {
        shot.tags_px.emplace_back(tag.corners.begin(), tag.corners.end());
    }
    shot.focal_length_35_mm = photo::read_metadata(bytes_of(file)).focal_length_35_mm;
    return shot;
}

}  // namespace stripbook::bench
