#include "print/condition_report.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "errors.h"
#include "print/outside_tools.h"
#include "print/sample_book.h"

using namespace stripbook;
using test::run_tool;

namespace {

print::ReportResult write(test::BookWithPhotos& book, const std::filesystem::path& out,
                          std::function<bool()> stop = {}) {
    return print::write_condition_report(book.book(), book::gather_part(book.book(), test::sample_part().tag),
                                         out, {"2026-11-25", "0.1.0", false, std::move(stop)});
}

}  // namespace

TEST_CASE("A part's photos come from the book onto the page, at the size the paper shows", "[print]") {
    test::BookWithPhotos book;
    book.add_photo(test::photo_bytes(3264, 2448));
    book.add_photo(test::photo_bytes(2448, 3264));
    const auto result = write(book, book.pdf);
    CHECK(result.file == book.pdf);
    CHECK(result.photos == 2);
    CHECK(result.remarks.empty());
    CHECK(result.pages == test::page_count(book.pdf));
    const std::string words = test::words_of(book.pdf);
    CHECK_THAT(words, Catch::Contains("Petrel, inspection railcar") && Catch::Contains("FVA_1001.JPG") &&
                          Catch::Contains("Linked: a person said so") && Catch::Contains("Ferrow FV-20"));
    // 175 mm at 200 dots an inch are 1378; a copy may be kept up to a quarter larger.
    const auto pictures = test::pictures_of(book.pdf);
    REQUIRE(pictures.size() == 2);
    for (const auto& picture : pictures) {
        CHECK(picture.width_px <= 1378 * 5 / 4);
        CHECK(picture.width_px >= 400);
    }
}

TEST_CASE("Nothing of a photo's Exif, and so no place, goes into the report", "[print]") {
    test::BookWithPhotos book;
    const auto file = book.add_photo(test::photo_bytes(800, 600));  // small enough to be kept as it is
    REQUIRE(run_tool({"exiv2", "-M", "set Exif.GPSInfo.GPSLatitude 54/1 36/1 0/1", "-M",
                      "set Exif.GPSInfo.GPSLatitudeRef N", "-M", "set Exif.Image.Artist SomebodysName",
                      file.string()})
                .status == 0);
    REQUIRE_THAT(run_tool({"exiv2", "-pa", file.string()}).output, Catch::Contains("GPSLatitude"));
    REQUIRE(write(book, book.pdf).photos == 1);
    const std::string pdf = test::read_file(book.pdf);
    CHECK(pdf.find("Exif") == std::string::npos);
    CHECK(pdf.find("SomebodysName") == std::string::npos);
    REQUIRE(run_tool({"pdfimages", "-all", book.pdf.string(), (book.folder / "out").string()}).status == 0);
    CHECK(run_tool({"exiv2", "-pa", (book.folder / "out-000.jpg").string()}).output.empty());
}

TEST_CASE("The same book and the same date give the same bytes", "[print]") {
    test::BookWithPhotos book;
    for (int i = 0; i < 6; ++i) {
        book.add_photo(test::photo_bytes(1600 + i, 1200));
    }
    static_cast<void>(write(book, book.pdf));
    static_cast<void>(write(book, book.folder / "again.pdf"));
    CHECK(test::read_file(book.pdf) == test::read_file(book.folder / "again.pdf"));
}

TEST_CASE("Damaged and missing files cost their own picture only", "[print]") {
    test::BookWithPhotos book;
    book.add_photo(test::photo_bytes(800, 600));
    book.add_photo("this is no picture");
    std::filesystem::remove(book.add_photo(test::photo_bytes(800, 600)));
    book.add_photo("");
    const auto result = write(book, book.pdf);
    CHECK(result.photos == 1);
    CHECK(result.remarks.size() == 3);
    CHECK(std::count_if(result.remarks.begin(), result.remarks.end(), [](const std::string& remark) {
              return remark.starts_with("p3 ") && remark.ends_with("run the check of the originals");
          }) == 1);
    const std::string words = test::words_of(book.pdf);
    CHECK_THAT(words, Catch::Contains("p2 cannot be shown") && Catch::Contains("p3 cannot be shown") &&
                          Catch::Contains("p4 cannot be shown"));
    CHECK(run_tool({"qpdf", "--check", book.pdf.string()}).status == 0);
}

TEST_CASE("Stopping leaves no report", "[print]") {
    test::BookWithPhotos book;
    book.add_photo(test::photo_bytes(800, 600));
    CHECK_THROWS_AS(static_cast<void>(write(book, book.pdf, [] { return true; })), Stopped);
    CHECK_FALSE(std::filesystem::exists(book.pdf));
}

TEST_CASE("A report that cannot be written says so", "[print]") {
    test::BookWithPhotos book;
    CHECK_THROWS_AS(static_cast<void>(write(book, book.folder / "none" / "report.pdf")), OutsideError);
}
