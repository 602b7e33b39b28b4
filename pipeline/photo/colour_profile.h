// The ICC colour profile inside an image file.
#pragma once

#include <string>
#include <string_view>

namespace stripbook::photo {

/// The profile a JPEG, PNG, TIFF or HEIC carries, when it is one for pixels of that kind (grey, or RGB); else
/// empty.
std::string colour_profile_of(std::string_view file_bytes, bool grey);

}  // namespace stripbook::photo
