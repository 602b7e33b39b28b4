// Whether a file of a card is a photo, a video or something else.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>

#include "book/records.h"

namespace stripbook::dump {

/// By the name alone (relative to the card). What operating systems leave on cards is `other`.
book::FileKind kind_by_name(const std::string& name);

/// How many first bytes kind_of_file looks at.
inline constexpr std::size_t kind_start_bytes = 12;

/// By the name, and where that says no photo, by the first bytes: JPEG, HEIC, AVIF, PNG, TIFF and cameras'
/// raw files are photos, MP4 and QuickTime videos under any name. A name that says photo stays a photo
/// whatever it holds: the reading station then says that it does not decode.
book::FileKind kind_of_file(const std::string& name, std::string_view first_bytes);

}  // namespace stripbook::dump
