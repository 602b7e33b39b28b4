// From fiducials and QR codes to tag numbers: what is confirmed, and what is only a suggestion. A wrong
// number is worse than none.
#pragma once

#include <array>
#include <opencv2/core.hpp>
#include <optional>
#include <string>
#include <vector>

#include "fiducial/find.h"
#include "number/tag_number.h"
#include "tag/qr.h"

namespace stripbook::tag {

/// One tag in a picture. Frame: the picture, whole numbers are pixel centres.
struct TagSighting {
    /// Confirmed: a QR code with a right check character, or at least three agreeing fiducials under exactly
    /// one corner assignment, with nothing in the tag contradicting. May be of another book.
    std::optional<number::TagNumber> number;
    bool by_qr = false;
    int fiducials_seen = 0;
    int fiducials_agreeing = 0;
    std::string doubt;  ///< why there is no confirmed number; empty when there is
    std::vector<number::TagNumber> suggestions;
    /// Corners of the printed face (large or small tag alike), clockwise from its top left. Without a number
    /// the face may be turned by half.
    std::array<cv::Point2d, 4> corners;
    /// "QR code and 4 fiducials", "3 fiducials", ...
    [[nodiscard]] std::string how() const;
};

struct TagReading {
    std::vector<TagSighting> tags;
    std::vector<QrCode> other_codes;  ///< QR codes that are no tag numbers
};

/// Everything about the tags of one grey picture (CV_8UC1), from what was found in it: `fiducials` and
/// `codes` of the same picture. What is not confirmed by these is looked at again in place (in_place.h).
/// `here` is the book whose tags are expected; groups of fiducials without a QR code are read for it, and for
/// other books whose QR codes are in the same picture.
TagReading read_tags(const cv::Mat& grey, const std::vector<fiducial::Fiducial>& fiducials,
                     const std::vector<QrCode>& codes, const number::BookCode& here);

}  // namespace stripbook::tag
