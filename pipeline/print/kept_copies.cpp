#include "print/kept_copies.h"

#include <fmt/format.h>
#include <unistd.h>

#include <fstream>
#include <string>
#include <string_view>

#include "book/paths.h"
#include "photo/picture_head.h"

namespace stripbook::print {

namespace {

namespace fs = std::filesystem;

// Files are not synced to the disk, so that a thousand of them take no minute: one that a power cut left
// empty or short does not end as a JPEG must (ISO/IEC 10918-1, B.1.1.3: EOI).
bool is_whole(std::string_view jpeg) {
    return jpeg.ends_with("\xff\xd9");
}

std::string bytes_of(const fs::path& file) {
    std::error_code missing;
    const auto size = fs::file_size(file, missing);
    std::ifstream in(file, std::ios::binary);
    if (missing || !in) {
        return "";
    }
    std::string bytes(size, '\0');
    in.read(bytes.data(), static_cast<std::streamsize>(size));
    return in ? bytes : "";
}

bool original_is_there(const book::Book& book, const book::Original& original) {
    std::error_code missing;
    return fs::file_size(book.folder() / original.stored_path, missing) == original.bytes && !missing;
}

}  // namespace

fs::path kept_copy_file(const book::Book& book, book::PhotoNumber number, int long_side_px) {
    return book.folder() / book::derived_folder / "print-1" /
           fmt::format("{}-{}.jpg", number.text(), long_side_px);
}

std::optional<photo::PrintCopy> kept_copy(const book::Book& book, const book::Photo& photo,
                                          int long_side_px) {
    if (!original_is_there(book, photo.original)) {
        return std::nullopt;
    }
    photo::PrintCopy copy;
    copy.jpeg = bytes_of(kept_copy_file(book, photo.number, long_side_px));
    const auto head = photo::read_picture_head(copy.jpeg);
    if (!is_whole(copy.jpeg) || head.format != photo::FileFormat::jpeg || head.size.empty()) {
        return std::nullopt;
    }
    copy.width_px = head.size.width;
    copy.height_px = head.size.height;
    return copy;
}

void keep_copy(const book::Book& book, book::PhotoNumber number, int long_side_px,
               const photo::PrintCopy& copy) {
    if (!copy.fault.empty() || !is_whole(copy.jpeg)) {
        return;
    }
    const auto file = kept_copy_file(book, number, long_side_px);
    const fs::path unfinished = file.string() + fmt::format(".{}", ::getpid());
    std::error_code failure;
    fs::create_directories(file.parent_path(), failure);
    std::ofstream out(unfinished, std::ios::binary);
    out.write(copy.jpeg.data(), static_cast<std::streamsize>(copy.jpeg.size()));
    out.close();
    if (out) {
        fs::rename(unfinished, file, failure);
    }
    if (!out || failure) {
        fs::remove(unfinished, failure);
    }
}

}  // namespace stripbook::print
