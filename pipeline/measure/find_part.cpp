#include "measure/find_part.h"

#include <algorithm>
#include <opencv2/imgproc.hpp>

#include "measure/background.h"

namespace stripbook::measure {

namespace {

// Distance from the background, in its standard deviations, that makes a pixel the part's: a little above
// what the background itself reaches, in these bounds. On ten rendered bench shots benches reach 3, a steel
// plate on a grey bench lies at 2.7 to 4 and a rusty shoe on a brown one at 6.
constexpr double least_part_distance = 2.2;
constexpr double most_part_distance = 4;
constexpr double above_background = 1.3;
// A shadow on white paper is as unlike it as a dull part on a bench, but much less so than the part there.
constexpr double share_of_part = 0.3;
constexpr double least_share_of_picture = 0.001;
constexpr double second_part_share = 0.35;  // of the largest: two parts then, not a part and a crumb

using Contour = std::vector<cv::Point>;

cv::Mat ones(int half) {
    return cv::Mat::ones(2 * half + 1, 2 * half + 1, CV_8U);
}

struct Grounds {
    cv::Mat1b sample;  // surely background
    cv::Mat1b region;  // where the part may be
};

// On the sheet: the paper. What surely is paper lies in the band of the squares.
Grounds on_sheet(const Surroundings& around) {
    Grounds grounds;
    constexpr int sheet_edge = 3;
    cv::erode(around.sheet, grounds.region, ones(sheet_edge));
    grounds.region.setTo(0, around.squares | around.not_part);
    cv::Mat1b inner;
    const int band = static_cast<int>(std::sqrt(cv::countNonZero(around.sheet)) / 10);
    cv::erode(around.sheet, inner, ones(band));
    grounds.sample = grounds.region.clone();
    grounds.sample.setTo(0, inner);
    return grounds;
}

// Beside it: the bench, along the picture's edge and around sheet and tags.
Grounds on_bench(const Surroundings& around) {
    Grounds grounds;
    constexpr int beside_sheet = 4;
    constexpr int ring_px = 30;
    constexpr int frame_px = 16;
    cv::Mat1b covered;
    cv::dilate(around.sheet, covered, ones(beside_sheet));
    covered |= around.not_part;
    grounds.region = ~covered;
    cv::dilate(covered, grounds.sample, ones(ring_px));
    cv::Mat1b frame(covered.size(), uchar{255});
    frame(cv::Rect({0, 0}, frame.size()) - cv::Point(-frame_px, -frame_px) -
          cv::Size(2 * frame_px, 2 * frame_px)) = uchar{0};
    grounds.sample |= frame;
    grounds.sample &= grounds.region;
    return grounds;
}

struct Things {
    cv::Mat1f distance;
    double threshold = 0;        // distance from which a pixel is a thing's
    std::vector<Contour> outer;  // largest first
};

// The value that a share of the map's pixels under the mask does not reach.
double quantile(const cv::Mat1f& map, const cv::Mat1b& mask, double share) {
    std::vector<float> values;
    for (int y = 0; y < map.rows; ++y) {
        for (int x = 0; x < map.cols; ++x) {
            if (mask(y, x) != 0) {
                values.push_back(map(y, x));
            }
        }
    }
    if (values.empty()) {
        return 0;
    }
    const auto place =
        values.begin() + static_cast<std::ptrdiff_t>(share * static_cast<double>(values.size() - 1));
    std::nth_element(values.begin(), place, values.end());
    return static_cast<double>(*place);
}

cv::Mat1b above(const cv::Mat1f& distance, double threshold) {
    cv::Mat1b mask;
    cv::compare(distance, threshold, mask, cv::CMP_GT);
    cv::morphologyEx(mask, mask, cv::MORPH_OPEN, ones(1));
    cv::morphologyEx(mask, mask, cv::MORPH_CLOSE, ones(3));
    return mask;
}

std::vector<Contour> outer_contours(const cv::Mat1b& mask) {
    std::vector<Contour> outer;
    cv::findContours(mask, outer, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
    std::sort(outer.begin(), outer.end(),
              [](const auto& a, const auto& b) { return cv::contourArea(a) > cv::contourArea(b); });
    return outer;
}

Things things_on(const cv::Mat3b& lab, const Grounds& grounds) {
    Things things;
    things.distance = background_distance(lab, grounds.sample, grounds.region);
    if (things.distance.empty()) {
        return things;
    }
    constexpr double nearly_all = 0.995;
    things.threshold = std::clamp(above_background * quantile(things.distance, grounds.sample, nearly_all),
                                  least_part_distance, most_part_distance);
    things.outer = outer_contours(above(things.distance, things.threshold));
    if (things.outer.empty()) {
        return things;
    }
    cv::Mat1b largest(lab.size(), uchar{0});
    cv::fillPoly(largest, std::vector<Contour>{things.outer.front()}, cv::Scalar(255));
    constexpr double half = 0.5;
    const double part = share_of_part * quantile(things.distance, largest, half);
    if (part > things.threshold) {
        things.threshold = part;
        things.outer = outer_contours(above(things.distance, part));
    }
    return things;
}

bool touches(const cv::Mat1b& mask, const cv::Mat1b& other) {
    cv::Mat1b grown;
    cv::dilate(mask, grown, ones(2));
    return cv::countNonZero(grown & other) > 0;
}

bool touches_frame(const Contour& contour, cv::Size size) {
    const cv::Rect box = cv::boundingRect(contour);
    constexpr int margin = 2;
    return box.x < margin || box.y < margin || box.br().x > size.width - margin ||
           box.br().y > size.height - margin;
}

RoughPart refused(Refusal refusal, std::string reason) {
    RoughPart part;
    part.refusal = refusal;
    part.reason = std::move(reason);
    return part;
}

std::vector<cv::Point2d> to_photo(const Contour& contour) {
    std::vector<cv::Point2d> points;
    for (const auto& p : contour) {
        points.push_back(photo_from_small(p));
    }
    return points;
}

void add_openings(RoughPart& part, double threshold) {
    cv::Mat1b seen_through;
    cv::compare(part.distance, threshold, seen_through, cv::CMP_LT);
    seen_through &= part.mask;
    std::vector<Contour> contours;
    cv::findContours(seen_through, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
    constexpr double least_area = 6;
    for (const auto& contour : contours) {
        if (cv::contourArea(contour) > least_area) {
            part.openings_px.push_back(to_photo(contour));
        }
    }
}

RoughPart part_of(const Things& things, bool inside, const Surroundings& around) {
    const Contour& largest = things.outer.front();
    if (touches_frame(largest, around.sheet.size())) {
        return refused(Refusal::touches_frame,
                       "the part touches the picture's edge: photograph all of it with some bench around");
    }
    if (things.outer.size() > 1 &&
        cv::contourArea(things.outer[1]) > second_part_share * cv::contourArea(largest)) {
        return refused(Refusal::several_parts,
                       "more than one thing beside the marker: photograph one part at a time");
    }
    RoughPart part;
    part.inside_frame = inside;
    part.distance = things.distance;
    part.mask = cv::Mat1b(around.sheet.size(), uchar{0});
    cv::fillPoly(part.mask, std::vector<Contour>{largest}, cv::Scalar(255));
    cv::Mat1b beyond;
    if (inside) {
        constexpr int sheet_edge = 3;
        cv::erode(around.sheet, beyond, ones(sheet_edge));
        beyond = ~beyond;
    } else {
        beyond = around.sheet | around.not_part;
    }
    if (touches(part.mask, beyond)) {
        return refused(
            Refusal::touches_marker,
            "the part touches the edge of the scale marker or a tag: lay it wholly on the marker or wholly "
            "beside it");
    }
    part.outline_px = to_photo(largest);
    add_openings(part, things.threshold);
    return part;
}

bool large_enough(const Things& things, const Surroundings& around) {
    return !things.outer.empty() && cv::contourArea(things.outer.front()) >
                                        least_share_of_picture * static_cast<double>(around.sheet.total());
}

}  // namespace

RoughPart find_part(const cv::Mat3b& small, const Surroundings& around) {
    cv::Mat3b lab;
    cv::cvtColor(small, lab, cv::COLOR_BGR2Lab);
    const Things inside = things_on(lab, on_sheet(around));
    if (large_enough(inside, around)) {
        return part_of(inside, true, around);
    }
    const Things beside = things_on(lab, on_bench(around));
    if (!large_enough(beside, around)) {
        return refused(Refusal::no_part,
                       "no part seen that differs from its background: lay it on a ground of another colour");
    }
    return part_of(beside, false, around);
}

}  // namespace stripbook::measure
