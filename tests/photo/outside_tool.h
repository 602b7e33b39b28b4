// Runs the command line tools whose word the tests take against ours.
#pragma once

#include <sys/wait.h>

#include <catch2/catch.hpp>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

namespace stripbook::test {

inline std::string quoted(const std::filesystem::path& path) {
    return "'" + path.string() + "'";
}

/// What the command prints; fails the test when the command does, or when its Debian package is not
/// installed.
inline std::string output_of(const std::string& command, const std::string& package) {
    FILE* pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string output;
    char block[4096];
    for (std::size_t got = 0; (got = fread(block, 1, sizeof block, pipe)) > 0;) {
        output.append(block, got);
    }
    const int status = pclose(pipe);
    INFO("the command " << command << " of the Debian package " << package);
    REQUIRE(WIFEXITED(status));
    REQUIRE(WEXITSTATUS(status) == 0);
    return output;
}

/// A file's bytes; fails the test when it is not there.
inline std::string bytes_of(const std::filesystem::path& path,
                            const std::string& package = "(this repository)") {
    INFO("the file " << path << " of the Debian package " << package);
    std::ifstream file(path, std::ios::binary);
    REQUIRE(file.is_open());
    return {std::istreambuf_iterator<char>(file), std::istreambuf_iterator<char>()};
}

inline void write_file(const std::filesystem::path& path, const std::string& bytes) {
    std::ofstream file(path, std::ios::binary);
    file << bytes;
    file.close();
    REQUIRE(file.good());
}

inline const std::filesystem::path& exif_samples() {
    static const std::filesystem::path folder = "/usr/share/gocode/src/github.com/rwcarlsen/goexif/exif";
    return folder;
}
inline constexpr const char* exif_samples_package = "golang-github-rwcarlsen-goexif-dev";

}  // namespace stripbook::test
