#include "print_job.h"

#include <fmt/chrono.h>
#include <fmt/format.h>

#include <ctime>

#include "book/paths.h"
#include "errors.h"

namespace stripbook::cli {

std::string today() {
    return fmt::format("{:%Y-%m-%d}", fmt::localtime(std::time(nullptr)));
}

std::filesystem::path pdf_path(const book::Book& book, const std::string& typed, const std::string& name) {
    if (!typed.empty()) {
        if (std::filesystem::path(typed).extension() != ".pdf") {
            throw WrongUse(
                fmt::format("--out {}: name a file that ends in .pdf", book::printable_name(typed)));
        }
        return typed;
    }
    const auto folder = book.folder() / book::reports_folder;
    std::error_code failure;
    std::filesystem::create_directories(folder, failure);
    if (failure) {
        throw OutsideError(fmt::format("the folder {} cannot be made ({}); choose another place with --out",
                                       folder.string(), failure.message()));
    }
    return folder / name;
}

}  // namespace stripbook::cli
