#include "measure/find_part.h"

#include <algorithm>
#include <opencv2/imgproc.hpp>

#include "measure/background.h"
#include "measure/colour_odds.h"
#include "measure/log_colour.h"
#include "measure/quantile.h"

namespace stripbook::measure {

namespace {

// Distance from the background, in its standard deviations, from which a pixel is first taken for the part's:
// a little above what the background itself reaches, in these bounds.
constexpr double least_part_distance = 2.2;
constexpr double most_part_distance = 4;
constexpr double above_background = 1.3;
// Of what is unlike the ground, this share must be unlike it in any shadow too, for shadows to be left out at
// once. A grey part on a grey bench is as dark as a shadow there.
constexpr double shade_proof_share = 0.4;
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

// Takes from a sample of paper whatever is printed on it: far from the middle brightness, and beside that.
void keep_paper(const cv::Mat3f& colours, cv::Mat1b& sample) {
    cv::Mat1f brightness;
    cv::extractChannel(colours, brightness, 0);
    std::vector<float> values;
    for (int y = 0; y < brightness.rows; ++y) {
        for (int x = 0; x < brightness.cols; ++x) {
            if (sample(y, x) != 0) {
                values.push_back(brightness(y, x));
            }
        }
    }
    if (values.empty()) {
        return;
    }
    const auto middle = middle_value(std::move(values));
    constexpr double printed = 0.3;  // natural logarithm: more than light falls off across a sheet
    cv::Mat1f off;
    cv::absdiff(brightness, cv::Scalar(static_cast<double>(middle)), off);
    cv::Mat1b print;
    cv::compare(off, printed, print, cv::CMP_GT);
    cv::dilate(print, print, ones(2));
    sample.setTo(0, print);
}

// On the sheet: the paper. What surely is paper lies in the band of the squares.
Grounds on_sheet(const cv::Mat3f& colours, const Surroundings& around) {
    Grounds grounds;
    constexpr int sheet_edge = 3;
    cv::erode(around.sheet, grounds.region, ones(sheet_edge));
    grounds.region.setTo(0, around.squares | around.not_part);
    cv::Mat1b inner;
    const int band = static_cast<int>(std::sqrt(cv::countNonZero(around.sheet)) / 10);
    cv::erode(around.sheet, inner, ones(band));
    grounds.sample = grounds.region.clone();
    grounds.sample.setTo(0, inner);
    keep_paper(colours, grounds.sample);
    return grounds;
}

// Beside it: the bench, along the picture's edge and around sheet and tags.
Grounds on_bench(const Surroundings& around) {
    Grounds grounds;
    constexpr int beside_sheet = 4;
    // Narrow: a part close to the sheet or to the picture's edge must not be learnt as bench.
    constexpr int ring_px = 8;
    constexpr int frame_px = 10;
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
    HueOdds hues;
    cv::Mat1b mask;
    cv::Mat1f odds;              // of each pixel being part
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
    return static_cast<double>(value_at_share(std::move(values), share));
}

cv::Mat1b above(const cv::Mat1f& map, double threshold, int close) {
    cv::Mat1b mask;
    cv::compare(map, threshold, mask, cv::CMP_GT);
    cv::morphologyEx(mask, mask, cv::MORPH_OPEN, ones(1));
    cv::morphologyEx(mask, mask, cv::MORPH_CLOSE, ones(close));
    return mask;
}

std::vector<Contour> outer_contours(const cv::Mat1b& mask) {
    std::vector<Contour> outer;
    cv::findContours(mask, outer, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
    std::sort(outer.begin(), outer.end(),
              [](const auto& a, const auto& b) { return cv::contourArea(a) > cv::contourArea(b); });
    return outer;
}

cv::Mat1b filled(const Contour& contour, cv::Size size) {
    cv::Mat1b mask(size, uchar{0});
    cv::fillPoly(mask, std::vector<Contour>{contour}, cv::Scalar(255));
    return mask;
}

double largest_area(const std::vector<Contour>& outer) {
    return outer.empty() ? 0 : cv::contourArea(outer.front());
}

// The largest thing that is unlike the ground, with its openings; empty: nothing.
cv::Mat1b unlike_ground(const cv::Mat3f& colours, const Grounds& grounds, const cv::Mat1b& where) {
    const auto distance = background_distance(colours, grounds.sample, grounds.region);
    if (distance.plain.empty()) {
        return {};
    }
    constexpr double nearly_all = 0.995;
    const double threshold =
        std::clamp(above_background * quantile(distance.plain, grounds.sample, nearly_all),
                   least_part_distance, most_part_distance);
    constexpr int close = 3;
    const auto things_in = [&](const cv::Mat1f& map) {
        cv::Mat1b mask = above(map, threshold, close);
        mask &= where;
        return mask;
    };
    cv::Mat1b mask = things_in(distance.plain);
    auto outer = outer_contours(mask);
    const cv::Mat1b unshaded = things_in(distance.shade_proof);
    const auto outer_unshaded = outer_contours(unshaded);
    if (largest_area(outer_unshaded) > shade_proof_share * largest_area(outer)) {
        mask = unshaded;
        outer = outer_unshaded;
    }
    if (largest_area(outer) < least_share_of_picture * static_cast<double>(mask.total())) {
        return {};
    }
    mask &= filled(outer.front(), mask.size());
    return mask;
}

// Well inside the mask, where no ground shows.
cv::Mat1b core_of(const cv::Mat1b& mask) {
    cv::Mat1f depth;
    cv::distanceTransform(mask, depth, cv::DIST_L2, 3);
    double deepest = 0;
    cv::minMaxLoc(depth, nullptr, &deepest);
    constexpr double deep_px = 6;
    cv::Mat1b core;
    cv::compare(depth, std::min(deepest / 2, deep_px), core, cv::CMP_GT);
    return core;
}

// Where nothing but ground can show, small holes too.
cv::Mat1b surely_ground(const cv::Mat1f& odds) {
    constexpr double smooth_px = 0.8;
    constexpr double sure = -0.5;
    cv::Mat1f smooth;
    cv::GaussianBlur(odds, smooth, {}, smooth_px);
    cv::Mat1b ground;
    cv::compare(smooth, sure, ground, cv::CMP_LT);
    return ground;
}

// Colours tell part from ground; what then is part tells its colours anew.
Things things_on(const cv::Mat3f& colours, const Grounds& grounds, const cv::Mat1b& where) {
    Things things;
    things.mask = unlike_ground(colours, grounds, where);
    if (things.mask.empty()) {
        return things;
    }
    const GroundColours ground(ColourCounts(colours, grounds.sample));
    constexpr int rounds = 3;
    for (int round = 0; round < rounds; ++round) {
        const ColourOdds odds_of = ground.odds_of(ColourCounts(colours, core_of(things.mask)));
        cv::Mat1f odds(colours.size(), -1.F);
        things.odds = odds;
        for (int y = 0; y < odds.rows; ++y) {
            for (int x = 0; x < odds.cols; ++x) {
                if (grounds.region(y, x) != 0) {
                    odds(y, x) = odds_of.of(colours(y, x));
                }
            }
        }
        constexpr double smooth_px = 2;
        cv::Mat1f smooth;
        cv::GaussianBlur(odds, smooth, {}, smooth_px);
        constexpr int close = 2;
        const cv::Mat1b all = above(smooth, 0, close);
        things.outer = outer_contours(all);
        if (things.outer.empty()) {
            return things;
        }
        cv::Mat1b within = all.clone();
        within &= where;
        const auto outer_within = outer_contours(within);
        if (outer_within.empty()) {
            return things;
        }
        things.mask = filled(outer_within.front(), colours.size());
        things.mask &= within;
    }
    things.hues = HueOdds(colours, grounds.sample, core_of(things.mask));
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

void add_openings(const cv::Mat1b& whole, const Things& things, RoughPart& part) {
    cv::Mat1b seen_through = whole.clone();
    seen_through.setTo(0, things.mask);
    // The mask closes small holes.
    constexpr int land = 4;
    cv::Mat1b well_inside;
    cv::erode(whole, well_inside, ones(land));
    seen_through |= well_inside & surely_ground(things.odds);
    std::vector<Contour> contours;
    cv::findContours(seen_through, contours, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_NONE);
    constexpr double least_area = 6;
    part.openings = cv::Mat1b(whole.size(), uchar{0});
    for (const auto& contour : contours) {
        if (cv::contourArea(contour) > least_area) {
            part.openings_px.push_back(to_photo(contour));
            cv::fillPoly(part.openings, std::vector<Contour>{contour}, cv::Scalar(255));
        }
    }
    constexpr int rim = 2;
    cv::dilate(part.openings, part.openings, ones(rim));
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
    part.hues = things.hues;
    part.mask = filled(largest, around.sheet.size());
    cv::Mat1b beyond = around.not_part.clone();
    if (inside) {
        constexpr int sheet_edge = 3;
        cv::Mat1b well_on_sheet;
        cv::erode(around.sheet, well_on_sheet, ones(sheet_edge));
        beyond |= ~well_on_sheet;
    } else {
        beyond |= around.sheet;
    }
    if (touches(part.mask, beyond)) {
        return refused(
            Refusal::touches_marker,
            "the part touches the edge of the scale marker or a tag: lay it wholly on the marker or wholly "
            "beside it");
    }
    part.outline_px = to_photo(largest);
    add_openings(part.mask, things, part);
    return part;
}

bool mostly_in(const Contour& contour, const cv::Mat1b& where) {
    const cv::Mat1b mask = filled(contour, where.size());
    return 2 * cv::countNonZero(mask & where) > cv::countNonZero(mask);
}

bool large_enough(const Things& things, const Surroundings& around) {
    return !things.outer.empty() && cv::contourArea(things.outer.front()) >
                                        least_share_of_picture * static_cast<double>(around.sheet.total());
}

}  // namespace

RoughPart find_part(const cv::Mat3b& small, const Surroundings& around) {
    constexpr double smooth_px = 0.7;
    const cv::Mat3f colours = log_colours(small, smooth_px);
    Things inside = things_on(colours, on_sheet(colours, around), around.inner);
    // Between the squares the sheet has its own print.
    inside.outer.erase(std::remove_if(inside.outer.begin(), inside.outer.end(),
                                      [&](const Contour& c) { return !mostly_in(c, around.inner); }),
                       inside.outer.end());
    if (large_enough(inside, around)) {
        return part_of(inside, true, around);
    }
    const Grounds bench = on_bench(around);
    const Things beside = things_on(colours, bench, bench.region);
    if (!large_enough(beside, around)) {
        return refused(Refusal::no_part,
                       "no part seen that differs from its background: lay it on a ground of another colour");
    }
    return part_of(beside, false, around);
}

}  // namespace stripbook::measure
