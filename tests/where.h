// Where the tests' surroundings are. Only where.cpp knows absolute paths, so the compiler cache serves every
// clone.
#pragma once

#include <filesystem>

namespace stripbook::test {

std::filesystem::path source_folder();      ///< top of the repository
std::filesystem::path binary_folder();      ///< of this build
std::filesystem::path program_path();       ///< the built stripbook
std::filesystem::path sample_maker_path();  ///< the built stripbook-samples

}  // namespace stripbook::test
