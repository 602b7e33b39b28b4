// Boxes of the ISO base media file format (ISO/IEC 14496-12, 4.2), shared by HEIC, AVIF, MP4 and QuickTime.
#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string_view>

namespace stripbook::photo {

struct IsoBox {
    std::string_view type;     ///< four characters
    std::string_view content;  ///< behind the box's head; as much of it as the file holds
    bool whole = true;         ///< false: the file ends inside it
};

/// The boxes lying side by side in `bytes`, in order, until `take` says false. Stops at what is no box.
void each_box(std::string_view bytes, const std::function<bool(const IsoBox&)>& take);

/// The first box of this type in `bytes`.
std::optional<IsoBox> find_box(std::string_view bytes, std::string_view type);

/// The content of a box that begins with a version and flags (a "full box"), and these.
struct FullBox {
    unsigned version = 0;
    std::uint32_t flags = 0;
    std::string_view content;
};
std::optional<FullBox> full_box(const IsoBox& box);

}  // namespace stripbook::photo
