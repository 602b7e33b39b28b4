#include "dump/outside_tools.h"

#include <algorithm>
#include <array>
#include <cstdio>
#include <stdexcept>

namespace stripbook::test {

std::string output_of(const std::string& command) {
    FILE* pipe = popen(command.c_str(), "r");
    if (pipe == nullptr) {
        throw std::runtime_error("cannot run " + command);
    }
    std::string output;
    std::array<char, 4096> buffer{};
    std::size_t got = 0;
    while ((got = fread(buffer.data(), 1, buffer.size(), pipe)) > 0) {
        output.append(buffer.data(), got);
    }
    if (pclose(pipe) != 0) {
        throw std::runtime_error("this failed: " + command);
    }
    return output;
}

std::string quoted(const std::filesystem::path& path) {
    std::string out = "'";
    for (const char c : path.string()) {
        out += c == '\'' ? std::string("'\\''") : std::string(1, c);
    }
    return out + "'";
}

std::map<std::string, std::string> sums_under(const std::filesystem::path& folder) {
    // -z: names as they are, each ended by a zero byte.
    const std::string lines =
        output_of("cd " + quoted(folder) + " && find . -type f -print0 | xargs -0 -r sha256sum -z");
    std::map<std::string, std::string> sums;
    for (std::size_t at = 0; at < lines.size();) {
        const auto end = lines.find('\0', at);
        const std::string line = lines.substr(at, end - at);
        sums[line.substr(64 + 2 + 2)] = line.substr(0, 64);  // sum, two spaces, "./"
        at = end + 1;
    }
    return sums;
}

std::vector<std::string> different_sums(const std::map<std::string, std::string>& sums) {
    std::vector<std::string> out;
    out.reserve(sums.size());
    for (const auto& [name, sum] : sums) {
        out.push_back(sum);
    }
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

std::string everything_about(const std::filesystem::path& folder) {
    return output_of("cd " + quoted(folder) +
                     " && find . -printf '%p %y %s %U %G %m %l %T@ %C@ %i %n\\0' | sort -z");
}

}  // namespace stripbook::test
