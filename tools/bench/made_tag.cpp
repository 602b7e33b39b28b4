#include "bench/made_tag.h"

#include <array>
#include <cmath>

#include "number/code_word.h"
#include "number/tag_layout.h"
#include "sample_maker/dice.h"
#include "sample_maker/random_pose.h"

namespace stripbook::bench {

namespace {

using namespace sample_maker;
using number::TagLayout;

constexpr double max_tilt_deg = 25;
constexpr std::array<BackgroundKind, 5> background_kinds{BackgroundKind::flat, BackgroundKind::gradient,
                                                         BackgroundKind::noise, BackgroundKind::wood,
                                                         BackgroundKind::metal};

Scene empty_scene(cv::Size size_px, Dice& dice) {
    Scene scene;
    scene.camera = plain_camera(size_px);
    scene.background.kind = background_kinds[static_cast<std::size_t>(dice.whole(0, 4))];
    scene.background.grey = dice.between(50, 190);
    scene.background.contrast = dice.between(30, 120);
    scene.blur_sigma_px = 0.6;
    scene.noise_sigma = 5;
    scene.jpeg_quality = 90;
    scene.seed = dice.seed();
    return scene;
}

Cover wire_across(Dice& dice) {
    constexpr double half_width = 2;
    const double angle = dice.between(0, CV_PI);
    const cv::Point2d along(std::cos(angle), std::sin(angle));
    const cv::Point2d aside(-along.y * half_width, along.x * half_width);
    const cv::Point2d through(dice.between(0, TagLayout::width), dice.between(0, TagLayout::height));
    const cv::Point2d far = along * 150;
    return {{through - far - aside, through + far - aside, through + far + aside, through - far + aside},
            dice.between(20, 120)};
}

Cover torn_corner(Dice& dice) {
    const double x = dice.whole(0, 1) * TagLayout::width;
    const double y = dice.whole(0, 1) * TagLayout::height;
    const double in_x = x > 0 ? -1 : 1;
    const double in_y = y > 0 ? -1 : 1;
    const double across = dice.between(30, 60);
    const double down = dice.between(20, 45);
    return {
        {{x - in_x * 2, y - in_y * 2}, {x + in_x * across, y - in_y * 2}, {x - in_x * 2, y + in_y * down}},
        dice.between(40, 180)};
}

void wear(Item& item, const TagWish& wish, Dice& dice) {
    item.grime = wish.grime;
    item.grime_seed = dice.seed();
    if (wish.covered > 0) {
        item.covers.push_back(cover_of_share(face_size_mm(item.face), wish.covered, dice));
        item.covers.back().grey = dice.between(30, 200);
    }
    if (wish.wire) {
        item.covers.push_back(wire_across(dice));
    }
    if (wish.torn) {
        item.covers.push_back(torn_corner(dice));
    }
    if (wish.glare > 0) {
        item.glare = Glare{{dice.between(0, TagLayout::width), dice.between(0, TagLayout::height)},
                           dice.between(10, 30),
                           wish.glare};
    }
}

// Something tag-like that is none: a foreign code, a stage card, a marker, bare paper with dark squares.
Face clutter_face(Dice& dice) {
    switch (dice.whole(0, 3)) {
        case 0:
            return QrFace{"https://example.org/" + std::to_string(dice.whole(0, 99999)), 60};
        case 1:
            return StageFace{"cleaned"};
        case 2:
            return MarkerFace{"pocket", dice.whole(1, 99)};
        default:
            return PlainFace{{dice.between(60, 130), dice.between(40, 70)}};
    }
}

Cover dark_square(cv::Point2d centre, double side, double angle, double grey) {
    const cv::Point2d u(std::cos(angle) * side / 2, std::sin(angle) * side / 2);
    const cv::Point2d v(-u.y, u.x);
    return {{centre - u - v, centre + u - v, centre + u + v, centre - u + v}, grey};
}

// Dark squares laid out as on a tag, with random modules in them: the nearest thing to a tag that is none.
void print_false_tag(Item& item, Dice& dice) {
    item.face = PlainFace{{TagLayout::width, TagLayout::height}};
    item.ink_grey = item.paper_grey;
    constexpr double module = TagLayout::fiducial_side / 8;
    for (const auto& c : TagLayout::fiducial_centres) {
        item.covers.push_back(dark_square({c.x, c.y}, TagLayout::fiducial_side, 0, 30));
        for (int i = 0; i < 36; ++i) {
            if (dice.whole(0, 1) == 1) {
                item.covers.push_back(dark_square(
                    {c.x + (i % 6 - 2.5) * module, c.y + (i / 6 - 2.5) * module}, module, 0, 220));
            }
        }
    }
}

}  // namespace

MadeTag made_tag(const TagWish& wish, const number::BookCode& book, std::uint64_t seed) {
    Dice dice(seed);
    const number::TagNumber number(book, dice.whole(1, number::highest_serial));
    Scene scene = empty_scene(wish.size_px, dice);
    scene.noise_sigma = wish.noise;
    scene.gain = wish.gain;
    scene.shake = {wish.shake_px, dice.between(0, 360)};
    Item item{TagFace{number, "Bracket", "left frame"}, {}};
    item.camera_from_plane =
        random_pose(scene.camera, printed_size_mm(item), {wish.px_per_mm, max_tilt_deg}, dice);
    item.paper_grey = dice.between(180, 240);
    item.ink_grey = dice.between(20, 55);
    wear(item, wish, dice);
    scene.items.push_back(item);
    return {scene, number};
}

Scene made_clutter(cv::Size size_px, std::uint64_t seed) {
    Dice dice(seed);
    Scene scene = empty_scene(size_px, dice);
    scene.noise_sigma = dice.between(1, 10);
    const int items = dice.whole(1, 4);
    for (int i = 0; i < items; ++i) {
        Item item{clutter_face(dice), {}};
        item.paper_grey = dice.between(150, 240);
        item.ink_grey = dice.between(20, 55);
        if (dice.whole(0, 1) == 1) {
            print_false_tag(item, dice);
        }
        item.camera_from_plane =
            random_pose(scene.camera, printed_size_mm(item), {dice.between(0.8, 2.5), max_tilt_deg}, dice);
        const cv::Size2d face = face_size_mm(item.face);
        const int squares = dice.whole(0, 12);
        for (int k = 0; k < squares; ++k) {
            item.covers.push_back(dark_square({dice.between(0, face.width), dice.between(0, face.height)},
                                              dice.between(4, 18), dice.between(0, CV_PI),
                                              dice.between(20, 120)));
        }
        scene.items.push_back(item);
    }
    return scene;
}

std::string file_of(const Scene& scene) {
    return photo_file_of(scene);
}

}  // namespace stripbook::bench
