// Files for a made card.
#pragma once

#include <algorithm>
#include <cstdint>
#include <filesystem>
#include <fstream>
#include <random>
#include <stdexcept>
#include <string>

namespace stripbook::test {

inline void write_file(const std::filesystem::path& path, const std::string& bytes) {
    std::filesystem::create_directories(path.parent_path());
    std::ofstream out(path, std::ios::binary | std::ios::trunc);
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (!out.flush()) {
        throw std::runtime_error("cannot write " + path.string());
    }
}

/// Bytes without pattern, the same for the same seed; they start as a JPEG does.
inline std::string photo_bytes(std::size_t length, unsigned seed) {
    std::mt19937_64 random(seed);
    std::string bytes;
    while (bytes.size() < length) {
        const std::uint64_t eight = random();
        bytes.append(reinterpret_cast<const char*>(&eight), sizeof eight);
    }
    bytes.resize(length);
    const std::string start = "\xFF\xD8\xFF";
    return start.substr(0, length) + bytes.substr(std::min(length, start.size()));
}

/// FVA_0010.JPG and on; at most 90.
inline void write_photos(const std::filesystem::path& card, int count, std::size_t bytes) {
    for (int i = 10; i < 10 + count; ++i) {
        write_file(card / ("FVA_00" + std::to_string(i) + ".JPG"),
                   photo_bytes(bytes, static_cast<unsigned>(i)));
    }
}

}  // namespace stripbook::test
