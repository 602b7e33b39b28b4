#include "bench/loops.h"

#include <ZXing/ReadBarcode.h>

extern "C" {
#include <apriltag/apriltag.h>
#include <apriltag/tag25h9.h>
#include <apriltag/tag36h11.h>
}

#include <algorithm>
#include <opencv2/imgcodecs.hpp>

#include "day/read_photo.h"
#include "number/code_word.h"

namespace stripbook::bench {

namespace {

cv::Mat plain_grey(const std::string& file_bytes) {
    const cv::Mat bytes(1, static_cast<int>(file_bytes.size()), CV_8U, const_cast<char*>(file_bytes.data()));
    return cv::imdecode(bytes, cv::IMREAD_GRAYSCALE | cv::IMREAD_IGNORE_ORIENTATION);
}

apriltag_detector_t* plain_detector(const apriltag_family_t* tags) {
    apriltag_detector_t* detector = apriltag_detector_create();
    apriltag_detector_add_family(detector, const_cast<apriltag_family_t*>(tags));
    apriltag_detector_add_family(detector, tag25h9_create());
    detector->quad_decimate = 1;
    detector->refine_edges = 0;  // finds more
    detector->nthreads = 1;
    return detector;
}

}  // namespace

std::vector<std::string> loop_a(const std::string& file_bytes) {
    const cv::Mat grey = plain_grey(file_bytes);
    ZXing::DecodeHints hints;
    hints.setFormats(ZXing::BarcodeFormat::QRCode);
    hints.setTryHarder(true);
    hints.setTryRotate(true);
    const ZXing::ImageView view(grey.data, grey.cols, grey.rows, ZXing::ImageFormat::Lum,
                                static_cast<int>(grey.step));
    std::vector<std::string> texts;
    for (const auto& result : ZXing::ReadBarcodes(view, hints)) {
        if (result.isValid()) {
            texts.push_back(result.text());
        }
    }
    return texts;
}

std::vector<int> loop_b(const std::string& file_bytes) {
    static const apriltag_family_t* const tags = tag36h11_create();
    static apriltag_detector_t* const detector = plain_detector(tags);
    const cv::Mat grey = plain_grey(file_bytes);
    image_u8_t image{grey.cols, grey.rows, static_cast<int>(grey.step), grey.data};
    zarray_t* seen = apriltag_detector_detect(detector, &image);
    std::vector<int> identities;
    for (int i = 0; i < zarray_size(seen); ++i) {
        apriltag_detection_t* detection = nullptr;
        zarray_get(seen, i, static_cast<void*>(&detection));
        if (detection->family == tags) {
            identities.push_back(detection->id);
        }
    }
    apriltag_detections_destroy(seen);
    return identities;
}

std::vector<Confirmed> ours_with_how(const std::string& file_bytes, const number::BookCode& here) {
    std::vector<Confirmed> confirmed;
    for (const auto& sighting : day::read_photo(file_bytes, {here}).sightings) {
        if (sighting.kind == book::SightingKind::tag && sighting.confirmed) {
            confirmed.push_back({sighting.text, sighting.by_qr});
        }
    }
    return confirmed;
}

std::vector<std::string> ours(const std::string& file_bytes, const number::BookCode& here) {
    std::vector<std::string> texts;
    for (const Confirmed& confirmed : ours_with_how(file_bytes, here)) {
        texts.push_back(confirmed.text);
    }
    return texts;
}

bool a_is_right(const std::vector<std::string>& texts, const number::TagNumber& truth) {
    return std::find(texts.begin(), texts.end(), truth.text()) != texts.end();
}

bool b_is_right(const std::vector<int>& identities, const number::TagNumber& truth) {
    constexpr int enough = 3;
    const auto expected = number::identities_of(truth);
    return std::count_if(expected.begin(), expected.end(), [&](int identity) {
               return std::find(identities.begin(), identities.end(), identity) != identities.end();
           }) >= enough;
}

bool ours_is_right(const std::vector<std::string>& confirmed, const number::TagNumber& truth) {
    return std::find(confirmed.begin(), confirmed.end(), truth.text()) != confirmed.end();
}

int wrong_numbers(const std::vector<std::string>& confirmed, const std::vector<number::TagNumber>& truth) {
    return static_cast<int>(std::count_if(confirmed.begin(), confirmed.end(), [&](const std::string& text) {
        return std::none_of(truth.begin(), truth.end(),
                            [&](const number::TagNumber& tag) { return tag.text() == text; });
    }));
}

}  // namespace stripbook::bench
