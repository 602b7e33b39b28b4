#include "dump/file_kind.h"

#include <algorithm>
#include <array>
#include <optional>

#include "dump/plain_letters.h"

namespace stripbook::dump {

namespace {

constexpr std::array<std::string_view, 20> photo_extensions{
    "jpg", "jpeg", "jpe", "png", "tif", "tiff", "avif", "srw", "heic", "heif",
    "dng", "cr2",  "cr3", "nef", "arw", "orf",  "rw2",  "raf", "pef",  "hif"};
constexpr std::array<std::string_view, 7> video_extensions{"mov", "mp4", "m4v", "avi", "mts", "m2ts", "3gp"};
constexpr std::array<std::string_view, 6> housekeeping{
    ".trashes", "system volume information", ".ds_store", ".fseventsd", ".spotlight-v100", "thumbs.db"};

using namespace std::string_view_literals;
// JPEG: ISO/IEC 10918-1 SOI and the next marker; PNG: ISO/IEC 15948 signature; TIFF 6.0: byte order and 42,
// as most cameras' raw files begin too; raw files of Panasonic, Olympus and Fuji.
constexpr std::array<std::string_view, 9> photo_starts{
    "\xFF\xD8\xFF"sv, "\x89PNG\r\n\x1A\n"sv, "II*\0"sv, "MM\0*"sv, "IIU\0"sv, "IIRO"sv, "IIRS"sv,
    "MMOR"sv,         "FUJIFILMCCD-"sv};
// What stands behind "ftyp" (ISO/IEC 14496-12): HEIC, AVIF and CR3; QuickTime, MP4 and 3GPP.
constexpr std::array<std::string_view, 10> photo_brands{"heic", "heix", "heim", "heis", "hevc",
                                                        "hevx", "mif1", "msf1", "avif", "crx "};
constexpr std::array<std::string_view, 9> video_brands{"qt  ", "isom", "iso2", "mp41", "mp42",
                                                       "avc1", "M4V ", "3gp4", "3gp5"};

template <std::size_t count>
bool is_one_of(std::string_view word, const std::array<std::string_view, count>& words) {
    return std::find(words.begin(), words.end(), word) != words.end();
}

std::string_view last_component(std::string_view name) {
    return name.substr(name.rfind('/') + 1);
}

std::string extension_of(std::string_view name) {
    const auto file = last_component(name);
    const auto dot = file.rfind('.');
    return dot == std::string_view::npos ? std::string() : in_small_letters(file.substr(dot + 1));
}

// What Windows and macOS leave behind; "._NAME" are macOS's side files, which carry the photo's own
// extension.
bool is_housekeeping(std::string_view name) {
    if (last_component(name).substr(0, 2) == "._") {
        return true;
    }
    const std::string small = in_small_letters(name);
    std::string_view rest = small;
    for (;;) {
        const auto slash = rest.find('/');
        if (is_one_of(rest.substr(0, slash), housekeeping)) {
            return true;
        }
        if (slash == std::string_view::npos) {
            return false;
        }
        rest.remove_prefix(slash + 1);
    }
}

std::optional<book::FileKind> kind_by_start(std::string_view first_bytes) {
    const bool photo = std::any_of(photo_starts.begin(), photo_starts.end(), [&](std::string_view start) {
        return first_bytes.substr(0, start.size()) == start;
    });
    if (photo) {
        return book::FileKind::photo;
    }
    if (first_bytes.size() < kind_start_bytes || first_bytes.substr(4, 4) != "ftyp") {
        return std::nullopt;
    }
    const std::string_view brand = first_bytes.substr(8, 4);
    if (is_one_of(brand, photo_brands)) {
        return book::FileKind::photo;
    }
    return is_one_of(brand, video_brands) ? std::optional(book::FileKind::video) : std::nullopt;
}

}  // namespace

book::FileKind kind_by_name(const std::string& name) {
    if (is_housekeeping(name)) {
        return book::FileKind::other;
    }
    const std::string extension = extension_of(name);
    if (is_one_of(extension, photo_extensions)) {
        return book::FileKind::photo;
    }
    return is_one_of(extension, video_extensions) ? book::FileKind::video : book::FileKind::other;
}

book::FileKind kind_of_file(const std::string& name, std::string_view first_bytes) {
    const book::FileKind named = kind_by_name(name);
    if (named == book::FileKind::photo || is_housekeeping(name)) {
        return named;
    }
    return kind_by_start(first_bytes).value_or(named);
}

}  // namespace stripbook::dump
