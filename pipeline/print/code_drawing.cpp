#include "print/code_drawing.h"

#include "fiducial/printed_modules.h"

namespace stripbook::print {

std::vector<BoxMm> module_rectangles(const cv::Mat1b& modules, const BoxMm& box) {
    const double width = box.width / modules.cols;
    const double height = box.height / modules.rows;
    std::vector<BoxMm> out;
    for (int row = 0; row < modules.rows; ++row) {
        for (int column = 0; column < modules.cols; ++column) {
            const int first = column;
            while (column < modules.cols && modules(row, column) != 0) {
                ++column;
            }
            if (column > first) {
                out.push_back(
                    {box.x + first * width, box.y + row * height, (column - first) * width, height});
            }
        }
    }
    return out;
}

BoxMm square_around(number::PointMm centre, double side) {
    return {centre.x - side / 2, centre.y - side / 2, side, side};
}

std::vector<BoxMm> fiducial_rectangles(fiducial::Family family, int identity, int quarters,
                                       const BoxMm& box) {
    return module_rectangles(
        fiducial::turned_clockwise(fiducial::printed_modules(family, identity), quarters), box);
}

}  // namespace stripbook::print
