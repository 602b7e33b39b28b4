// What sha256sum, find and stat say about files: the truth that the copies are held against.
#pragma once

#include <filesystem>
#include <map>
#include <string>
#include <vector>

namespace stripbook::test {

/// Output of a shell command; throws when it fails.
std::string output_of(const std::string& command);

/// For the shell, whatever the name holds.
std::string quoted(const std::filesystem::path& path);

/// Every regular file under `folder`: relative name to sha256sum's sum.
std::map<std::string, std::string> sums_under(const std::filesystem::path& folder);

/// The sums alone, sorted, each once.
std::vector<std::string> different_sums(const std::map<std::string, std::string>& sums);

/// Name, kind, size, owner, mode, link target, times of change and of contents of everything under `folder`;
/// all but the time of the last reading.
std::string everything_about(const std::filesystem::path& folder);

}  // namespace stripbook::test
