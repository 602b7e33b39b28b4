#include "where.h"

namespace stripbook::test {

std::filesystem::path source_folder() {
    return STRIPBOOK_SOURCE_DIR;
}

std::filesystem::path binary_folder() {
    return STRIPBOOK_BINARY_DIR;
}

std::filesystem::path program_path() {
    return binary_folder() / "tools/stripbook/stripbook";
}

std::filesystem::path sample_maker_path() {
    return binary_folder() / "tools/sample_maker/stripbook-samples";
}

}  // namespace stripbook::test
