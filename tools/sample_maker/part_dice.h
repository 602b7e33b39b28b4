// Random parts and bench shots of them.
#pragma once

#include <string>

#include "sample_maker/dice.h"
#include "sample_maker/part_scene.h"

namespace stripbook::sample_maker {

struct PartShot {
    PartScene scene;
    std::string look;    ///< `steel on grey`, `on the sheet`, ...
    std::string finish;  ///< rust, iron, steel, brass, gasket or aluminium
};

/// A part of any kind on one of the benches, beside or on a scale marker, seen from up to 25 degrees aside.
PartShot part_shot(Dice& dice);

}  // namespace stripbook::sample_maker
