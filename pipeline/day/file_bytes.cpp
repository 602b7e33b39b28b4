#include "day/file_bytes.h"

#include <fstream>
#include <iterator>

#include "errors.h"

namespace stripbook::day {

std::string bytes_of_original(const std::string& path) {
    std::ifstream in(path, std::ios::binary);
    std::string bytes{std::istreambuf_iterator<char>(in), std::istreambuf_iterator<char>()};
    if (!in.is_open() || in.bad()) {
        throw OutsideError("the copy in the book could not be read; run stripbook check");
    }
    return bytes;
}

}  // namespace stripbook::day
