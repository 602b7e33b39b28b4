#include "print/condition_report.h"

#include <algorithm>
#include <catch2/catch.hpp>

#include "book/links.h"
#include "book/originals.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/photos.h"
#include "book/settings.h"
#include "errors.h"
#include "print/outside_tools.h"
#include "print/sample_part.h"
#include "scratch_folder.h"

using namespace stripbook;
using test::run_tool;

namespace {

// A book with one part and photos p1, p2, ... of it, whose stored files are what the test writes.
class BookWithPhotos {
  public:
    BookWithPhotos()
        : book_(
              book::Book::start(folder / "Petrel", sample_.tag.book(), "Petrel, inspection railcar", "Ana")) {
        book::save_part(book_, sample_, "Ana", "test");
        dump_ = book::begin_dump(book_, "card", "Ana");
    }

    // Takes `bytes` in as the next photo; returns its stored file.
    std::filesystem::path add_photo(const std::string& bytes, int orientation = 1) {
        const std::string name = "DCIM/101FERRO/FVA_" + std::to_string(1000 + ++count_) + ".JPG";
        const std::string stored = book::dump_folder(dump_.value) + "/" + name;
        const auto file = book_.folder() / stored;
        std::filesystem::create_directories(file.parent_path());
        test::write_file(file, bytes);
        const std::string sum = std::string(63, 'a') + std::to_string(count_);
        const auto original =
            book::add_original(book_, dump_, {name, bytes.size(), 1773997095.0, 101, 1000 + count_}, sum,
                               book::FileKind::photo, stored);
        const auto number = book::photo_of_original(book_, original.id)->number;
        book::PhotoFacts facts;
        facts.maker = "Ferrow";
        facts.model = "FV-20";
        facts.orientation = orientation;
        book::save_photo_facts(book_, number, facts);
        book::link_by_person(book_, number, sample_.tag, "Ana");
        return file;
    }

    [[nodiscard]] print::ReportResult write(const std::filesystem::path& out,
                                            std::function<bool()> stop = {}) const {
        return print::write_condition_report(book_, book::gather_part(book_, sample_.tag), out,
                                             {"2026-11-25", "0.1.0", false, std::move(stop)});
    }

    test::ScratchFolder folder;
    std::filesystem::path pdf = folder / "report.pdf";

  private:
    book::Part sample_ = test::sample_part();
    book::Book book_;
    book::DumpId dump_;
    int count_ = 0;
};

std::string photo_bytes(int width, int height) {
    return test::jpeg_of(test::asymmetric_picture(width, height));
}

}  // namespace

TEST_CASE("A part's photos come from the book onto the page, at the size the paper shows", "[print]") {
    BookWithPhotos book;
    book.add_photo(photo_bytes(3264, 2448));
    book.add_photo(photo_bytes(2448, 3264));
    const auto result = book.write(book.pdf);
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
    BookWithPhotos book;
    const auto file = book.add_photo(photo_bytes(800, 600));  // small enough to be kept as it is
    REQUIRE(run_tool({"exiv2", "-M", "set Exif.GPSInfo.GPSLatitude 54/1 36/1 0/1", "-M",
                      "set Exif.GPSInfo.GPSLatitudeRef N", "-M", "set Exif.Image.Artist SomebodysName",
                      file.string()})
                .status == 0);
    REQUIRE_THAT(run_tool({"exiv2", "-pa", file.string()}).output, Catch::Contains("GPSLatitude"));
    REQUIRE(book.write(book.pdf).photos == 1);
    const std::string pdf = test::read_file(book.pdf);
    CHECK(pdf.find("Exif") == std::string::npos);
    CHECK(pdf.find("SomebodysName") == std::string::npos);
    REQUIRE(run_tool({"pdfimages", "-all", book.pdf.string(), (book.folder / "out").string()}).status == 0);
    CHECK(run_tool({"exiv2", "-pa", (book.folder / "out-000.jpg").string()}).output.empty());
}

TEST_CASE("The same book and the same date give the same bytes", "[print]") {
    BookWithPhotos book;
    for (int i = 0; i < 6; ++i) {
        book.add_photo(photo_bytes(1600 + i, 1200));
    }
    static_cast<void>(book.write(book.pdf));
    static_cast<void>(book.write(book.folder / "again.pdf"));
    CHECK(test::read_file(book.pdf) == test::read_file(book.folder / "again.pdf"));
}

TEST_CASE("Damaged and missing files cost their own picture only", "[print]") {
    BookWithPhotos book;
    book.add_photo(photo_bytes(800, 600));
    book.add_photo("this is no picture");
    std::filesystem::remove(book.add_photo(photo_bytes(800, 600)));
    book.add_photo("");
    const auto result = book.write(book.pdf);
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
    BookWithPhotos book;
    book.add_photo(photo_bytes(800, 600));
    CHECK_THROWS_AS(static_cast<void>(book.write(book.pdf, [] { return true; })), Stopped);
    CHECK_FALSE(std::filesystem::exists(book.pdf));
}

TEST_CASE("A report that cannot be written says so", "[print]") {
    BookWithPhotos book;
    CHECK_THROWS_AS(static_cast<void>(book.write(book.folder / "none" / "report.pdf")), OutsideError);
}
