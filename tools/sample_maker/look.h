// From a wished look to one photo's scene and one item's wear.
#pragma once

#include "sample_maker/made_set.h"

namespace stripbook::sample_maker {

/// A scene without items. Throws WrongUse when a range makes no sense (see light_of).
Scene empty_scene(const Look& look, Dice& dice);

/// Grime and cover as the look wishes them.
void wear(Item& item, const Look& look, Dice& dice);

}  // namespace stripbook::sample_maker
