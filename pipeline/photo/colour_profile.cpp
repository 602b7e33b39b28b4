#include "photo/colour_profile.h"

#include <exiv2/exiv2.hpp>

#include "photo/heif_decoder.h"
#include "photo/jpeg_writer.h"
#include "photo/picture.h"

namespace stripbook::photo {

namespace {

std::string profile_by_exiv2(std::string_view file_bytes) {
    Exiv2::LogMsg::setLevel(Exiv2::LogMsg::mute);
    try {
        const auto image = Exiv2::ImageFactory::open(reinterpret_cast<const Exiv2::byte*>(file_bytes.data()),
                                                     static_cast<long>(file_bytes.size()));
        image->readMetadata();
        const Exiv2::DataBuf* profile = image->iccProfile();
        return image->iccProfileDefined() ? std::string(reinterpret_cast<const char*>(profile->pData_),
                                                        static_cast<std::size_t>(profile->size_))
                                          : std::string();
    } catch (const std::exception&) {
        return {};  // unreadable: the picture goes without, as sRGB
    }
}

// ISO 15076-1, 7.2: 128 bytes of header, colour space at 16, "acsp" at 36.
bool fits(std::string_view profile, bool grey) {
    constexpr std::size_t header_bytes = 128;
    constexpr std::size_t most_bytes =
        std::size_t{4} << 20U;  // a JPEG holds 16 MiB; real ones stay below 3 (common practice)
    return profile.size() > header_bytes && profile.size() <= most_bytes && profile.substr(36, 4) == "acsp" &&
           profile.substr(16, 4) == (grey ? "GRAY" : "RGB ");
}

}  // namespace

std::string colour_profile_of(std::string_view file_bytes, bool grey) {
    const FileFormat format = format_of(file_bytes);
    std::string profile = format == FileFormat::jpeg   ? jpeg_profile(file_bytes)
                          : format == FileFormat::heif ? heif_profile(file_bytes)
                                                       : profile_by_exiv2(file_bytes);
    return fits(profile, grey) ? profile : std::string();
}

}  // namespace stripbook::photo
