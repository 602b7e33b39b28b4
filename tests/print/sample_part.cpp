#include "print/sample_part.h"

#include <catch2/catch.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

namespace stripbook::test {

book::Part sample_part() {
    book::Part part(number::TagNumber(number::BookCode::from_typed("PET"), 417));
    part.name = "Axlebox cover";
    part.assembly = "Running gear";
    part.place = "Bogie 1 / axle 1 / left";
    part.storage = "Rack B, shelf 3";
    part.quantity_expected = 1;
    part.quantity_present = 1;
    part.face_height_mm = 16;
    part.condition = "Light pitting on the outer face.";
    part.path = "repair";
    part.notes["drawing number"] = "FV-1043-2";
    return part;
}

book::PartPhoto sample_photo(int number, const std::string& stage) {
    const book::Part part = sample_part();
    book::PartPhoto photo{
        {}, {{number}, part.tag, "the tag is in the picture", 0.97, false}, false, stage, false};
    photo.photo.number = {number};
    photo.photo.original.kind = book::FileKind::photo;
    photo.photo.name_on_card = "DCIM/101FERRO/FVA_" + std::to_string(1000 + number) + ".JPG";
    photo.photo.camera_words = "Ferrow FV-20 A10442";
    // 2026-03-20T08:58:15Z, by date(1): 1773997095
    photo.photo.camera_time = {1773997095.83, "2026-03-20T08:58:15.83", "", "EXIF"};
    photo.photo.corrected_seconds = photo.photo.camera_time.seconds;
    return photo;
}

cv::Mat asymmetric_picture(int width, int height) {
    cv::Mat picture(height, width, CV_8UC1, cv::Scalar(230));
    cv::rectangle(picture, {0, 0}, {width / 3, height / 4}, cv::Scalar(20), cv::FILLED);
    cv::rectangle(picture, {width * 4 / 5, height / 3}, {width, height}, cv::Scalar(120), cv::FILLED);
    return picture;
}

std::string jpeg_of(const cv::Mat& picture) {
    std::vector<unsigned char> bytes;
    REQUIRE(cv::imencode(".jpg", picture, bytes, {cv::IMWRITE_JPEG_QUALITY, 92}));
    return {bytes.begin(), bytes.end()};
}

photo::PrintCopy print_copy_of(const cv::Mat& picture) {
    return {jpeg_of(picture), picture.cols, picture.rows, true, ""};
}

print::ReportContent sample_content(const book::PartFile& part_file) {
    return {"Petrel, inspection railcar",
            "PET",
            "Fenny Junction workshop",
            part_file,
            {},
            "2026-11-25",
            "stripbook 0.1.0"};
}

}  // namespace stripbook::test
