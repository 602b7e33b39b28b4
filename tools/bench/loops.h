// The three ways of reading that are compared: plain loops over the libraries, and ours.
#pragma once

#include <string>
#include <vector>

#include "fiducial/find.h"
#include "number/tag_number.h"

namespace stripbook::bench {

/// cv::imdecode to grey and ZXing-cpp's ReadBarcodes (QR, try harder, try rotate): the texts.
std::vector<std::string> loop_a(const std::string& file_bytes);

/// cv::imdecode to grey and libapriltag (decimate 1, both families, edges not refined), straight from the
/// library: the identities of family 36h11.
std::vector<int> loop_b(const std::string& file_bytes);

/// The whole reading station: the confirmed tag numbers.
std::vector<std::string> ours(const std::string& file_bytes, const number::BookCode& here);

/// A number that the reading station confirmed.
struct Confirmed {
    std::string text;
    bool by_qr = false;  ///< else from fiducials alone: links only when the book knows it
};
std::vector<Confirmed> ours_with_how(const std::string& file_bytes, const number::BookCode& here);

/// What counts as right: A has the number's text; B has at least three of its four identities (how they lie
/// is not asked, which is generous); ours has it confirmed.
bool a_is_right(const std::vector<std::string>& texts, const number::TagNumber& truth);
bool b_is_right(const std::vector<int>& identities, const number::TagNumber& truth);
bool ours_is_right(const std::vector<std::string>& confirmed, const number::TagNumber& truth);
/// Confirmed numbers that are not there.
int wrong_numbers(const std::vector<std::string>& confirmed, const std::vector<number::TagNumber>& truth);

}  // namespace stripbook::bench
