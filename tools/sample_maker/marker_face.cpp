#include "sample_maker/marker_face.h"

#include <fmt/format.h>

#include <algorithm>

#include "errors.h"
#include "number/code_word.h"
#include "sample_maker/sheet.h"

namespace stripbook::sample_maker {

namespace {

using number::PointMm;

// The sheet's QR code sits where the drawing leaves room: in the middle of the small card, between two
// fiducials of the edge on the larger sheets. 21 modules (version 1, level M holds the 17 characters).
struct QrPlace {
    PointMm centre;
    double side_mm = 0;
};

QrPlace qr_place(const number::MarkerLayout& layout) {
    if (layout.kind == "pocket") {
        return {{layout.width / 2, layout.height / 2}, 16.8};
    }
    const PointMm first = layout.fiducials[0].centre;
    const PointMm second = layout.fiducials[1].centre;
    return {{(first.x + second.x) / 2, first.y}, layout.fiducial_side};
}

PrintedFiducial upright_fiducial(int identity, PointMm centre, double side_mm) {
    const auto [x, y] = centre;
    const double h = side_mm / 2;
    return {identity, {{{x - h, y - h}, {x + h, y - h}, {x + h, y + h}, {x - h, y + h}}}};
}

constexpr int first_stage_identity = 28;
constexpr double stage_fiducial_side_mm = 14;
constexpr PointMm first_stage_centre{12, 12};
constexpr PointMm second_stage_centre{stage_card_width_mm - 12, stage_card_height_mm - 12};

}  // namespace

const number::MarkerLayout& layout_of(const MarkerFace& face) {
    for (const auto& layout : number::marker_layouts()) {
        if (layout.kind == face.kind) {
            return layout;
        }
    }
    throw WrongUse(fmt::format("\"{}\" is not a scale marker: give pocket, bench or mat.", face.kind));
}

std::string marker_qr_text(const MarkerFace& face) {
    std::string kind = face.kind;
    std::transform(kind.begin(), kind.end(), kind.begin(),
                   [](char c) { return c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c; });
    return fmt::format("MARKER-{}-{:04}", kind, face.sheet_number);
}

cv::Mat1b draw_marker_face(const MarkerFace& face, double px_per_mm) {
    const number::MarkerLayout& layout = layout_of(face);
    Sheet sheet(layout.width, layout.height, px_per_mm);
    for (const auto& fiducial : layout.fiducials) {
        sheet.ink_modules(fiducial_modules(FiducialFamily::tag25h9, fiducial.identity), fiducial.centre,
                          layout.fiducial_side);
    }
    const QrPlace place = qr_place(layout);
    sheet.ink_modules(qr_modules(marker_qr_text(face), QrLevel::medium), place.centre, place.side_mm);
    return sheet.picture();
}

std::vector<PrintedFiducial> marker_fiducials(const MarkerFace& face) {
    const number::MarkerLayout& layout = layout_of(face);
    std::vector<PrintedFiducial> fiducials;
    for (const auto& fiducial : layout.fiducials) {
        fiducials.push_back(upright_fiducial(fiducial.identity, fiducial.centre, layout.fiducial_side));
    }
    return fiducials;
}

int identity_of(const StageFace& face) {
    std::string stages;
    for (int identity = first_stage_identity;; ++identity) {
        const auto stage = number::stage_of_identity(identity);
        if (!stage) {
            throw WrongUse(fmt::format("\"{}\" is not a stage: give one of{}.", face.stage, stages));
        }
        if (*stage == face.stage) {
            return identity;
        }
        stages += " " + std::string(*stage);
    }
}

cv::Mat1b draw_stage_face(const StageFace& face, double px_per_mm) {
    const int identity = identity_of(face);
    Sheet sheet(stage_card_width_mm, stage_card_height_mm, px_per_mm);
    const Modules modules = fiducial_modules(FiducialFamily::tag25h9, identity);
    sheet.ink_modules(modules, first_stage_centre, stage_fiducial_side_mm);
    sheet.ink_modules(modules, second_stage_centre, stage_fiducial_side_mm);
    sheet.ink_text(face.stage, {8, 21, stage_card_width_mm - 16, 12});
    return sheet.picture();
}

std::vector<PrintedFiducial> stage_fiducials(const StageFace& face) {
    const int identity = identity_of(face);
    return {upright_fiducial(identity, first_stage_centre, stage_fiducial_side_mm),
            upright_fiducial(identity, second_stage_centre, stage_fiducial_side_mm)};
}

}  // namespace stripbook::sample_maker
