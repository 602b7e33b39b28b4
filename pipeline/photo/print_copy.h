// A photo made ready for a printed page: small enough, and with nothing in it but the picture and its colour
// profile. Strangers' bytes: call in a worker.
#pragma once

#include <string>
#include <string_view>

namespace stripbook::photo {

struct PrintCopy {
    std::string
        jpeg;  ///< baseline JPEG, grey or YCbCr, no application data but JFIF and an ICC profile that fits it
    int width_px = 0;  ///< of `jpeg`, as stored: still to be turned by the EXIF orientation
    int height_px = 0;
    bool recompressed = false;  ///< false: the original's own coefficients
    std::string
        fault;  ///< one line when the picture is not whole or does not decode (then `jpeg` may be empty)
};

/// `long_side_px`: the long side the page needs at its resolution. A grey or YCbCr JPEG no larger than 1.25
/// times that is kept without re-compressing (its coefficients are copied); anything else is down-sampled
/// (area mean) to that long side, never enlarged, and compressed at quality 88. Same file and size, same
/// bytes. std::bad_alloc when memory runs out.
PrintCopy make_print_copy(std::string_view file_bytes, int long_side_px);

/// The copy as bytes and back, to cross the workers' pipe. BadFile when the bytes are not those of a copy.
std::string to_bytes(const PrintCopy& copy);
PrintCopy print_copy_from_bytes(std::string_view bytes);

}  // namespace stripbook::photo
