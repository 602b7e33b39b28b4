// The whole reading of one picture, in the order of what pays: docs/reading.md tells the cascade.
#pragma once

#include <opencv2/core.hpp>
#include <vector>

#include "fiducial/find.h"
#include "tag/read_tags.h"

namespace stripbook::tag {

struct PictureReading {
    TagReading tags;
    std::vector<fiducial::Fiducial> fiducials;  ///< of both families; scale markers are made of them
};

/// Tags and other QR codes of a grey picture (CV_8UC1), `here` as in read_tags.
PictureReading read_picture(const cv::Mat& grey, const number::BookCode& here);

}  // namespace stripbook::tag
