#include "tag/read_picture.h"

#include "tag/find_codes.h"

namespace stripbook::tag {

PictureReading read_picture(const cv::Mat& grey, const number::BookCode& here) {
    const fiducial::Pyramid pyramid(grey);
    fiducial::Look look = fiducial::look_for_fiducials(pyramid);
    const auto codes = find_qr_codes(pyramid, look);
    PictureReading reading;
    reading.tags = read_tags(grey, look.fiducials, codes, here);
    reading.fiducials = std::move(look.fiducials);
    return reading;
}

}  // namespace stripbook::tag
