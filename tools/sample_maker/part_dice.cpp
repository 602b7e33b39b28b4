#include "sample_maker/part_dice.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <opencv2/calib3d.hpp>

#include "errors.h"

namespace stripbook::sample_maker {

namespace {

constexpr double degree = CV_PI / 180;

struct Look {
    const char* name;
    const char* finish;
    Stained part, bench;
    bool thin;
};

Stained rust() {
    return {{{0.045F, 0.115F, 0.31F}, 0.02}, {0.03F, 0.05F, 0.1F}, 0.35, 36};
}
Stained iron() {
    return {{{0.085F, 0.08F, 0.075F}, 0.1}, {0.05F, 0.055F, 0.065F}, 0.3, 50};
}
Stained steel(double grey) {
    const auto g = static_cast<float>(grey);
    return {{{1.05F * g, g, 0.97F * g}, 0.6}, {0.3F * g, 0.33F * g, 0.4F * g}, 0.08, 60};
}
Stained brass() {
    return {{{0.2F, 0.55F, 0.72F}, 0.4}, {0.05F, 0.1F, 0.16F}, 0.06, 60};
}
Stained gasket() {
    return {{{0.19F, 0.19F, 0.2F}, 0}, {0.08F, 0.1F, 0.12F}, 0.2, 40};
}
Stained grey_bench() {
    return {{{0.47F, 0.43F, 0.4F}, 0}, {0.3F, 0.28F, 0.26F}, 0.08, 24};
}
Stained brown_bench() {
    return {{{0.2F, 0.33F, 0.46F}, 0}, {0.1F, 0.15F, 0.2F}, 0.15, 90};
}
Stained dark_bench() {
    return {{{0.06F, 0.06F, 0.055F}, 0}, {0.1F, 0.1F, 0.1F}, 0.1, 30};
}

Look look_of(Dice& dice) {
    switch (dice.whole(0, 7)) {
        case 0:
            return {"dark on light", "iron", iron(), grey_bench(), false};
        case 1:
            return {"rust on grey", "rust", rust(), grey_bench(), false};
        case 2:
            return {"light on dark", "aluminium", steel(dice.between(0.4, 0.6)), dark_bench(), false};
        case 3:
        case 4:
            return {"steel on grey", "steel", steel(dice.between(0.25, 0.42)), grey_bench(), false};
        case 5:
            return {"rust on brown", "rust", rust(), brown_bench(), false};
        case 6:
            return {"thin", "brass", brass(), grey_bench(), true};
        default:
            return {"thin", "gasket", gasket(), brown_bench(), true};
    }
}

double tenths(double value) {
    return std::round(value * 10) / 10;
}

// Holes as drills make them.
double drilled(Dice& dice) {
    constexpr std::array<double, 8> drills{6.6, 8.5, 9, 11, 12, 13.5, 14.3, 17.5};
    return drills[static_cast<std::size_t>(dice.whole(0, 7))];
}

Solid plate(double most, Dice& dice) {
    const double w = tenths(dice.between(0.5, 1) * most);
    const double h = tenths(dice.between(0.5, 0.68) * w);
    const double drill = std::min(drilled(dice), 0.16 * h);
    const double in_x = tenths(w / 2 - drill - dice.between(2, 8));
    const double in_y = tenths(h / 2 - drill - dice.between(2, 5));
    Solid solid{PlateOutline{w, h, tenths(dice.between(2, 10))}, {}, 0, 0};
    if (dice.whole(0, 1) == 0) {
        for (const cv::Point2d sign : {cv::Point2d(1, 1), {1, -1}, {-1, 1}, {-1, -1}}) {
            solid.holes.push_back({{sign.x * in_x, sign.y * in_y}, drill});
        }
        solid.holes.push_back({{0, 0}, tenths(dice.between(0.25, 0.45) * h)});
    } else {
        solid.holes = {{{-in_x, 0}, drill}, {{tenths(0.8 * in_x), 0}, drill}};
    }
    return solid;
}

Solid round_part(double most, Dice& dice) {
    const double radius = tenths(dice.between(0.3, 0.5) * most);
    Solid solid{DiscOutline{radius}, {}, 0, 0};
    const int kind = dice.whole(0, 4);
    if (kind == 0) {
        return solid;
    }
    const double bore = tenths(dice.between(0.3, 0.6) * radius);
    solid.holes.push_back({{0, 0}, 2 * bore});
    const double room = radius - bore;
    if (kind > 1 && room > 16) {
        const double drill = std::min(drilled(dice), tenths(0.4 * room));
        const int count = dice.whole(3, 8);
        const double ring = tenths(bore + room * dice.between(0.48, 0.58));
        for (int i = 0; i < count; ++i) {
            const double turn = 2 * CV_PI * i / count;
            solid.holes.push_back({cv::Point2d(std::cos(turn), std::sin(turn)) * ring, drill});
        }
    }
    return solid;
}

Solid lever(double most, Dice& dice) {
    const double r1 = tenths(dice.between(0.09, 0.13) * most);
    const double r2 = tenths(r1 * dice.between(0.65, 0.95));
    const double centres = tenths(most * dice.between(0.7, 1) - r1 - r2);
    return {
        LeverOutline{centres, r1, r2},
        {{{0, 0}, tenths(r1 * dice.between(0.8, 1.1))}, {{centres, 0}, tenths(r2 * dice.between(0.6, 0.9))}},
        0,
        0};
}

Solid shoe(double most, Dice& dice) {
    const double angle = dice.between(70, 125);
    const double ro = tenths(most * dice.between(0.7, 1) / (2 * std::sin(angle / 2 * degree)));
    const double wide = std::min(tenths(dice.between(22, 32)), tenths(0.4 * ro));
    Solid solid{ShoeOutline{ro, ro - wide, angle * degree}, {}, 0, 0};
    const double at = angle / 2 * degree * 0.6;
    for (const double side : {-1.0, 1.0}) {
        solid.holes.push_back(
            {cv::Point2d(std::cos(at), side * std::sin(at)) * (ro - wide / 2), std::min(12.0, 0.45 * wide)});
    }
    return solid;
}

Solid block(double most, Dice& dice) {
    const double w = tenths(dice.between(0.3, 0.8) * most);
    return {PlateOutline{w, tenths(w * dice.between(0.4, 0.9)), tenths(dice.between(0.6, 4))}, {}, 0, 0};
}

Solid solid_of(bool thin, double most, Dice& dice) {
    const int kind = dice.whole(0, thin ? 5 : 9);
    Solid solid = kind < 3   ? plate(most, dice)
                  : kind < 6 ? round_part(most, dice)
                  : kind < 8 ? lever(most, dice)
                  : kind < 9 ? shoe(most, dice)
                             : block(most, dice);
    if (thin) {
        solid.thickness = tenths(dice.between(1, 3));
        solid.chamfer = dice.between(0, 0.1) * solid.thickness;
        return solid;
    }
    solid.thickness = tenths(dice.between(4, 22));
    constexpr double usual = 0.5;
    solid.chamfer = dice.whole(0, 2) > 0 ? usual : dice.between(0.1, 0.8);
    return solid;
}

// Pictures cut down to what bench shots need, at the fineness of 8 megapixels.
struct CameraKind {
    const char* model;
    const char* serial;
    cv::Size size;
    double focal_px, k1, k2, focal_mm;
    int focal_35_mm;
};

constexpr double off_middle_px = 5;

void take_camera(Scene& flat, Dice& dice) {
    static const std::array<CameraKind, 3> kinds{
        {{"FV-20", "A10442", {3264, 1632}, 5660.4, -0.028, 0.004, 30, 60},
         {"FV-20", "A10442", {3264, 1632}, 3773.6, -0.062, 0.011, 20, 40},
         {"Pocket 3", "B77120", {3000, 1500}, 2427.7, -0.085, 0.02, 4.2, 28}}};
    const auto& k = kinds[static_cast<std::size_t>(dice.whole(0, 2))];
    flat.camera.size_px = k.size;
    flat.camera.matrix = cv::Matx33d(k.focal_px, 0, k.size.width / 2.0 + off_middle_px, 0, k.focal_px,
                                     k.size.height / 2.0 - off_middle_px, 0, 0, 1);
    flat.camera.distortion = {k.k1, k.k2, 0, 0};
    flat.notes.maker = "Ferrow";
    flat.notes.model = k.model;
    flat.notes.serial = k.serial;
    flat.notes.focal_length_mm = k.focal_mm;
    flat.notes.focal_length_35_mm = k.focal_35_mm;
}

// From the wished side, as near as all the points fit the picture, at most 9 px/mm.
Pose framed(const Camera& camera, const std::vector<cv::Vec3d>& points, Dice& dice) {
    const double tilt = dice.between(0, 25) * degree;
    const double aside = dice.between(0, 2 * CV_PI);
    cv::Matx33d turned;
    cv::Matx33d tilted;
    cv::Rodrigues(cv::Vec3d(0, 0, dice.between(-8, 8) * degree), turned);
    cv::Rodrigues(cv::Vec3d(std::sin(aside) * tilt, -std::cos(aside) * tilt, 0), tilted);
    Pose pose{tilted * turned, {}};
    cv::Vec3d middle;
    for (const auto& p : points) {
        middle += p / static_cast<double>(points.size());
    }
    const double focal = camera.matrix(0, 0);
    constexpr double finest = 9;
    double depth = 1000;
    cv::Vec2d shift;
    for (int round = 0; round < 30; ++round) {
        pose.translation_mm = cv::Vec3d(shift[0], shift[1], depth) - pose.rotation * middle;
        cv::Point2d low(1e9, 1e9);
        cv::Point2d high(-1e9, -1e9);
        for (const auto& p : points) {
            const cv::Vec3d c = pose.rotation * p + pose.translation_mm;
            const cv::Point2d px = pixel_from_ray(camera, {c[0] / c[2], c[1] / c[2]});
            low = {std::min(low.x, px.x), std::min(low.y, px.y)};
            high = {std::max(high.x, px.x), std::max(high.y, px.y)};
        }
        constexpr double filled = 0.93;
        const double share = std::max((high.x - low.x) / (filled * camera.size_px.width),
                                      (high.y - low.y) / (filled * camera.size_px.height));
        const cv::Point2d off =
            (low + high) / 2 - cv::Point2d(camera.size_px.width, camera.size_px.height) / 2.0;
        shift -= cv::Vec2d(off.x, off.y) * (depth / focal);
        depth = std::max(depth * share, focal / finest);
    }
    return pose;
}

void light(PartScene& scene, Dice& dice) {
    const double aside = dice.between(0, 2 * CV_PI);
    const double height = dice.between(45, 75) * degree;
    scene.lamps.towards = {std::cos(height) * std::cos(aside), std::cos(height) * std::sin(aside),
                           std::sin(height)};
    scene.lamps.half_angle_rad = dice.between(0.05, 0.35);
    scene.lamps.lamp = dice.between(0.3, 0.65);
    scene.lamps.ambient = 1 - scene.lamps.lamp;
    scene.falloff = dice.between(0, 0.25);
    scene.exposure = dice.between(0.6, 0.95);
    scene.flat.blur_sigma_px = dice.between(0.5, 0.9);
    scene.flat.noise_sigma = dice.between(1.5, 4);
    scene.flat.jpeg_quality = dice.whole(88, 95);
}

std::vector<cv::Vec3d> corners_of(const cv::Rect2d& box) {
    return {{box.x, box.y, 0},
            {box.x + box.width, box.y, 0},
            {box.x + box.width, box.y + box.height, 0},
            {box.x, box.y + box.height, 0}};
}

// The part's middle and the radius around it, from its origin.
std::pair<cv::Point2d, double> middle_of(const Solid& solid) {
    if (const auto* lever = std::get_if<LeverOutline>(&solid.outline)) {
        const double length = lever->centres + lever->first_radius + lever->second_radius;
        return {{length / 2 - lever->first_radius, 0}, length / 2};
    }
    if (const auto* shoe = std::get_if<ShoeOutline>(&solid.outline)) {
        const double half = shoe->angle_rad / 2;
        const double in = shoe->inner_radius * std::cos(half);
        return {{(in + shoe->outer_radius) / 2, 0},
                std::hypot((shoe->outer_radius - in) / 2, shoe->outer_radius * std::sin(half))};
    }
    return {{0, 0}, reach_mm(solid)};
}

}  // namespace

PartShot part_shot(Dice& dice) {
    const Look look = look_of(dice);
    const bool on_sheet = dice.whole(0, 2) == 0;
    const bool pocket = !on_sheet && dice.whole(0, 2) == 0;
    PartShot shot{{}, on_sheet ? "on the sheet" : look.name, look.finish};
    PartScene& scene = shot.scene;
    take_camera(scene.flat, dice);
    const Item sheet{MarkerFace{pocket ? "pocket" : "bench", 1}, {}};
    const cv::Size2d size = printed_size_mm(sheet);
    scene.solid = solid_of(look.thin, on_sheet ? 130 : pocket ? 120 : 240, dice);
    scene.part = look.part;
    scene.bench = look.bench;
    const auto [middle, radius] = middle_of(scene.solid);
    cv::Point2d target(size.width / 2 + dice.between(-8, 8), size.height / 2 + dice.between(-4, 4));
    if (!on_sheet) {
        constexpr double sheet_thickness = 0.2;
        scene.ground_mm = -sheet_thickness;
        target = {size.width + radius + dice.between(12, 40), size.height / 2 + dice.between(-30, 30)};
    }
    scene.turn_rad = dice.between(0, 2 * CV_PI);
    const double c = std::cos(scene.turn_rad);
    const double s = std::sin(scene.turn_rad);
    scene.place_mm = target - cv::Point2d(c * middle.x - s * middle.y, s * middle.x + c * middle.y);
    auto points = corners_of({0, 0, size.width, size.height});
    for (const auto& p : corners_of({target.x - radius, target.y - radius, 2 * radius, 2 * radius})) {
        points.push_back(p);
        points.push_back(p - cv::Vec3d(0, 0, scene.solid.thickness));
    }
    scene.flat.items = {sheet};
    scene.flat.items.front().camera_from_plane = framed(scene.flat.camera, points, dice);
    light(scene, dice);
    scene.flat.seed = dice.seed();
    return shot;
}

}  // namespace stripbook::sample_maker
