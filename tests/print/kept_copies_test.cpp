#include "print/kept_copies.h"

#include <catch2/catch.hpp>
#include <filesystem>

#include "book/part_file.h"
#include "print/condition_report.h"
#include "print/outside_tools.h"
#include "print/sample_book.h"

using namespace stripbook;

namespace {

print::ReportResult write(test::BookWithPhotos& book, double dots_per_inch = print::good_dots_per_inch) {
    print::ReportOptions options;
    options.date = "2026-11-25";
    options.version = "0.1.0";
    options.dots_per_inch = dots_per_inch;
    return print::write_condition_report(book.book(), book::gather_part(book.book(), test::sample_part().tag),
                                         book.pdf, options);
}

std::vector<std::filesystem::path> kept_in(test::BookWithPhotos& book) {
    const auto folder = print::kept_copy_file(book.book(), {1}, 1).parent_path();
    std::vector<std::filesystem::path> files;
    if (std::filesystem::exists(folder)) {
        for (const auto& entry : std::filesystem::directory_iterator(folder)) {
            files.push_back(entry.path());
        }
    }
    return files;
}

}  // namespace

TEST_CASE("The second report takes the copies that the first one kept, and is the same", "[print]") {
    test::BookWithPhotos book;
    book.add_photo(test::photo_bytes(2000, 1500));
    static_cast<void>(write(book));
    const std::string first = test::read_file(book.pdf);
    const auto kept = kept_in(book);
    REQUIRE(kept.size() == 1);
    static_cast<void>(write(book));
    CHECK(test::read_file(book.pdf) == first);
    // It really is taken: another picture in its place shows.
    test::write_file(kept[0], test::photo_bytes(777, 555));
    static_cast<void>(write(book));
    CHECK(test::pictures_of(book.pdf).at(0).width_px == 777);
}

TEST_CASE("A copy cut short by a power cut is made again", "[print]") {
    test::BookWithPhotos book;
    book.add_photo(test::photo_bytes(2000, 1500));
    static_cast<void>(write(book));
    const std::string first = test::read_file(book.pdf);
    const auto kept = kept_in(book).at(0);
    for (const std::string& left : {std::string(), test::read_file(kept).substr(0, 500)}) {
        test::write_file(kept, left);
        static_cast<void>(write(book));
        CHECK(test::read_file(book.pdf) == first);
    }
}

TEST_CASE("A kept copy does not hide that the original is gone or damaged", "[print]") {
    test::BookWithPhotos book;
    const auto first = book.add_photo(test::photo_bytes(2000, 1500));
    const auto second = book.add_photo(test::photo_bytes(2000, 1500));
    REQUIRE(write(book).remarks.empty());
    std::filesystem::remove(first);
    std::filesystem::resize_file(second, 900);
    CHECK(write(book).remarks.size() == 2);
}

TEST_CASE("Copies that cannot be kept, or are made for one mail, leave nothing behind", "[print]") {
    test::BookWithPhotos book;
    book.add_photo(test::photo_bytes(2000, 1500));
    static_cast<void>(write(book, 100));
    CHECK(kept_in(book).empty());
    // A file where the folder should be: as on a stick that takes no writing.
    const auto folder = print::kept_copy_file(book.book(), {1}, 1).parent_path();
    test::write_file(folder, "");
    const auto result = write(book);
    CHECK(result.photos == 1);
    CHECK(result.remarks.empty());
}
