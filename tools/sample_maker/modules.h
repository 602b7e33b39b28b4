// The black and white squares of the printed codes, from the libraries that define them.
#pragma once

#include <opencv2/core.hpp>
#include <string>

namespace stripbook::sample_maker {

/// One byte a module, 1 = black. Row 0 is the top, column 0 the left. No white border.
using Modules = cv::Mat1b;

enum class FiducialFamily {
    tag36h11,  ///< 8 x 8 modules with the black border, identities 0 to 586: tags
    tag25h9,   ///< 7 x 7 modules with the black border, identities 0 to 34: scale markers and stage cards
};

/// The fiducial upright, as on tags and markers: half a turn from the picture that libapriltag's
/// apriltag_to_image draws, and the same as OpenCV's dictionaries of the family have it. Which way is up is
/// only a convention, but every reader of a fiducial's corners depends on it. Throws WrongUse when the family
/// has no such identity.
Modules fiducial_modules(FiducialFamily family, int identity);

/// `modules` turned clockwise by `quarters` x 90 degrees.
Modules turned_clockwise(const Modules& modules, int quarters);

enum class QrLevel { medium, quartile };

/// The smallest QR code that holds `text`. Throws WrongUse when none does.
Modules qr_modules(const std::string& text, QrLevel level);

}  // namespace stripbook::sample_maker
