// Photos stand upright on paper whatever way the camera was held.
#include <catch2/catch.hpp>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>

#include "print/outside_tools.h"
#include "print/report_drawing.h"
#include "print/sample_part.h"
#include "scratch_folder.h"

using namespace stripbook;

namespace {

// The picture as a camera stores it that writes this orientation, so that a viewer who follows it sees
// `upright`.
cv::Mat stored_from_upright(const cv::Mat& upright, int orientation) {
    cv::Mat stored = upright.clone();
    switch (orientation) {
        case 2:
            cv::flip(upright, stored, 1);
            break;
        case 3:
            cv::rotate(upright, stored, cv::ROTATE_180);
            break;
        case 4:
            cv::flip(upright, stored, 0);
            break;
        case 5:
            cv::transpose(upright, stored);
            break;
        case 6:
            cv::rotate(upright, stored, cv::ROTATE_90_COUNTERCLOCKWISE);
            break;
        case 7:
            cv::rotate(upright, stored, cv::ROTATE_180);
            cv::transpose(stored.clone(), stored);
            break;
        case 8:
            cv::rotate(upright, stored, cv::ROTATE_90_CLOCKWISE);
            break;
        default:
            break;
    }
    return stored;
}

// The only photo of a report's first page, cut out by the frame around it: the largest dark outline.
cv::Mat photo_on_page(const cv::Mat& page) {
    cv::Mat ink;
    cv::compare(page, 252, ink, cv::CMP_LT);
    std::vector<std::vector<cv::Point>> outlines;
    cv::findContours(ink, outlines, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_SIMPLE);
    cv::Rect largest;
    for (const auto& outline : outlines) {
        const cv::Rect box = cv::boundingRect(outline);
        largest = box.area() > largest.area() ? box : largest;
    }
    cv::Mat same_size;
    cv::resize(page(largest), same_size, {240, 160}, 0, 0, cv::INTER_AREA);
    return same_size;
}

}  // namespace

TEST_CASE("All eight EXIF orientations appear upright and alike", "[print]") {
    const cv::Mat upright = test::asymmetric_picture(480, 320);
    cv::Mat expected;
    cv::resize(upright, expected, {240, 160}, 0, 0, cv::INTER_AREA);
    const test::ScratchFolder folder;
    for (int orientation = 1; orientation <= 8; ++orientation) {
        INFO("orientation " << orientation);
        const auto file = folder / "stored.jpg";
        const cv::Mat stored = stored_from_upright(upright, orientation);
        test::write_file(file, test::jpeg_of(stored));
        REQUIRE(
            test::run_tool({"exiv2", "-M", "set Exif.Image.Orientation Short " + std::to_string(orientation),
                            file.string()})
                .status == 0);
        // That the file is right is said by a reader that follows the orientation.
        REQUIRE(cv::norm(cv::imread(file.string(), cv::IMREAD_GRAYSCALE), upright, cv::NORM_L1) / 480 / 320 <
                1);

        book::PartFile part_file(test::sample_part());
        part_file.photos.push_back(test::sample_photo(1, "as-removed"));
        part_file.photos[0].photo.orientation = orientation;
        auto content = test::sample_content(part_file);
        content.copies[{1}] = {test::read_file(file), stored.cols, stored.rows, false, ""};
        print::draw_report(content, print::Paper::a4(), folder / "report.pdf");
        const cv::Mat seen = photo_on_page(test::pages_of(folder / "report.pdf", 100, 1).at(0));
        // A wrong turn differs by tens of grey levels; edges and the frame make about two.
        CHECK(cv::norm(seen, expected, cv::NORM_L1) / 240 / 160 < 4);
    }
}
