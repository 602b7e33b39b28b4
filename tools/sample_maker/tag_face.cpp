#include "sample_maker/tag_face.h"

#include <fmt/format.h>

#include <algorithm>

#include "number/code_word.h"
#include "number/tag_layout.h"
#include "sample_maker/sheet.h"

namespace stripbook::sample_maker {

using number::TagLayout;

cv::Mat1b draw_tag_face(const TagFace& face, double px_per_mm) {
    Sheet sheet(TagLayout::width, TagLayout::height, px_per_mm);
    sheet.ink_circle(TagLayout::hole_centre, TagLayout::hole_diameter);
    const number::Identities identities = number::identities_of(face.number);
    for (std::size_t i = 0; i < identities.size(); ++i) {
        const Modules upright = fiducial_modules(FiducialFamily::tag36h11, identities[i]);
        sheet.ink_modules(turned_clockwise(upright, static_cast<int>(i)), TagLayout::fiducial_centres[i],
                          TagLayout::fiducial_side);
    }
    sheet.ink_modules(qr_modules(face.number.text(), QrLevel::quartile), TagLayout::qr_centre,
                      TagLayout::qr_side);

    const double width = TagLayout::text_right - TagLayout::text_left;
    sheet.ink_text(fmt::format("{:05}", face.number.serial()),
                   {TagLayout::text_left, TagLayout::text_top, width, 9});
    sheet.ink_text(face.number.text(), {TagLayout::text_left, TagLayout::text_top + 9, width, 4});
    sheet.ink_text(face.part_name, {TagLayout::text_left, TagLayout::text_top + 13.5, width, 3});
    sheet.ink_text(face.place, {TagLayout::text_left, TagLayout::text_top + 17, width, 3});
    return sheet.picture();
}

std::vector<PrintedFiducial> tag_fiducials(const number::TagNumber& number) {
    const number::Identities identities = number::identities_of(number);
    std::vector<PrintedFiducial> fiducials;
    for (std::size_t i = 0; i < identities.size(); ++i) {
        const auto [x, y] = TagLayout::fiducial_centres[i];
        const double h = TagLayout::fiducial_side / 2;
        PrintedFiducial fiducial{identities[i],
                                 {{{x - h, y - h}, {x + h, y - h}, {x + h, y + h}, {x - h, y + h}}}};
        // Turned clockwise by i quarters, the fiducial's own top left sits i corners further on.
        std::rotate(fiducial.corners_mm.begin(), fiducial.corners_mm.begin() + static_cast<std::ptrdiff_t>(i),
                    fiducial.corners_mm.end());
        fiducials.push_back(fiducial);
    }
    return fiducials;
}

}  // namespace stripbook::sample_maker
