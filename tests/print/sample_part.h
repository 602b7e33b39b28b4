// A part of the railcar Petrel to print, and pictures for it, drawn here.
#pragma once

#include <opencv2/core.hpp>
#include <string>

#include "print/report_content.h"

namespace stripbook::test {

book::Part sample_part();

/// A photo p<number> with a stage and everything a caption shows.
book::PartPhoto sample_photo(int number, const std::string& stage);

/// A picture without any symmetry: one dark corner, one mid-grey edge, a light ground.
cv::Mat asymmetric_picture(int width, int height);

std::string jpeg_of(const cv::Mat& picture);
photo::PrintCopy print_copy_of(const cv::Mat& picture);

/// What a report of `part_file` shows, no copies yet.
print::ReportContent sample_content(const book::PartFile& part_file);

}  // namespace stripbook::test
