#include "sample_maker/look.h"

namespace stripbook::sample_maker {

Scene empty_scene(const Look& look, Dice& dice) {
    Scene scene;
    scene.camera = plain_camera(look.size_px);
    scene.camera.distortion[0] = look.k1;
    scene.background.kind = look.background;
    scene.background.grey = dice.between(90, 150);
    scene.blur_sigma_px = look.blur_px.pick(dice);
    scene.shake = {look.shake_px.pick(dice), dice.between(0, 360)};
    scene.gain = look.gain.pick(dice);
    scene.noise_sigma = look.noise.pick(dice);
    scene.jpeg_quality = look.quality;
    scene.seed = dice.seed();
    return scene;
}

void wear(Item& item, const Look& look, Dice& dice) {
    item.grime = look.grime.pick(dice);
    item.grime_seed = dice.seed();
    const double share = look.covered.pick(dice);
    if (share > 0) {
        item.covers.push_back(cover_of_share(face_size_mm(item.face), share, dice));
    }
}

}  // namespace stripbook::sample_maker
