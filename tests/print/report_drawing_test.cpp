#include "print/report_drawing.h"

#include <catch2/catch.hpp>
#include <map>
#include <opencv2/imgcodecs.hpp>
#include <opencv2/imgproc.hpp>
#include <set>

#include "errors.h"
#include "print/outside_tools.h"
#include "print/report_sections.h"
#include "print/sample_part.h"
#include "scratch_folder.h"

using namespace stripbook;
using print::draw_report;
using print::Paper;
using test::run_tool;

namespace {

// A report of the sample part with this many photos: as-removed and others in turn.
struct Drawn {
    explicit Drawn(int photos, const Paper& paper = Paper::a4(), book::Part part = test::sample_part())
        : part_file(std::move(part)) {
        auto content = test::sample_content(part_file);
        for (int i = 1; i <= photos; ++i) {
            part_file.photos.push_back(test::sample_photo(i, i % 3 == 1 ? "as-removed" : "cleaned"));
            // The width tells which photo it is.
            const cv::Size size = i % 4 == 0 ? cv::Size(200 + i, 320) : cv::Size(300 + i, 220);
            content.copies[{i}] = test::print_copy_of(test::asymmetric_picture(size.width, size.height));
        }
        draw(content, paper);
    }
    void draw(const print::ReportContent& content, const Paper& paper) {
        report = draw_report(content, paper, pdf);
    }
    test::ScratchFolder folder;
    std::filesystem::path pdf = folder / "report.pdf";
    book::PartFile part_file;
    print::DrawnReport report;
};

book::Part part_named(const std::string& name) {
    book::Part part = test::sample_part();
    part.name = name;
    return part;
}

void check_sound(const std::filesystem::path& pdf) {
    CHECK(run_tool({"qpdf", "--check", pdf.string()}).status == 0);
    std::istringstream fonts(run_tool({"pdffonts", pdf.string()}).output);
    std::string line;
    std::getline(fonts, line);
    const auto embedded = line.find("emb");
    REQUIRE(embedded != std::string::npos);
    std::getline(fonts, line);
    int count = 0;
    while (std::getline(fonts, line)) {
        INFO(line);
        CHECK(line.substr(embedded, 3) == "yes");
        ++count;
    }
    CHECK(count >= 3);
}

// Every margin is white. `slack_mm`: half a line's width and the raster.
void check_margins(const std::filesystem::path& pdf) {
    constexpr int dots_per_inch = 60;
    const auto px = [](double mm) { return static_cast<int>(mm / 25.4 * dots_per_inch); };
    constexpr double slack_mm = 0.7;
    for (const cv::Mat& page : test::pages_of(pdf, dots_per_inch)) {
        cv::Mat ink;
        cv::compare(page, 200, ink, cv::CMP_LT);
        const cv::Rect used = cv::boundingRect(ink);
        CHECK(used.x >= px(print::ReportFlow::margin_left - slack_mm));
        CHECK(used.br().x <= page.cols - px(print::ReportFlow::margin_right - slack_mm));
        CHECK(used.y >= px(print::ReportFlow::margin_top - slack_mm));
        CHECK(used.br().y <= page.rows - px(print::ReportFlow::margin_bottom - slack_mm));
        // Nothing runs into the foot: between the body and the foot's rule, 18.4 mm from the edge, the page
        // is white.
        const cv::Rect gap(0, page.rows - px(22 - slack_mm), page.cols, px(2));
        CHECK(cv::countNonZero(ink(gap)) == 0);
    }
}

// Captions are found by the file name, which stands nowhere else.
void check_photos_stand_with_their_captions(const Drawn& drawn, int photos) {
    std::map<int, int> page_of_photo;
    for (const auto& picture : test::pictures_of(drawn.pdf)) {
        page_of_photo[picture.width_px % 100] = picture.page;
    }
    CHECK(page_of_photo.size() == static_cast<std::size_t>(photos));
    for (const auto& [photo, page] : page_of_photo) {
        INFO("p" << photo << " on page " << page);
        CHECK_THAT(test::words_of(drawn.pdf, page),
                   Catch::Contains("FVA_" + std::to_string(1000 + photo) + ".JPG"));
    }
}

}  // namespace

TEST_CASE("Reports with 0, 1, 2, 7 and 40 photos are sound and keep photo and caption together", "[print]") {
    const int photos = GENERATE(0, 1, 2, 7, 40);
    const bool letter = GENERATE(false, true);
    INFO(photos << " photos");
    const Drawn drawn(photos, letter ? Paper::us_letter() : Paper::a4());
    check_sound(drawn.pdf);
    check_margins(drawn.pdf);
    check_photos_stand_with_their_captions(drawn, photos);
    CHECK(test::page_count(drawn.pdf) == drawn.report.pages);
    CHECK(drawn.report.remarks.empty());
    const std::string words = test::words_of(drawn.pdf);
    CHECK_THAT(words, Catch::Contains("page 1 of " + std::to_string(drawn.report.pages)));
    CHECK((words.find("No photo is linked yet") != std::string::npos) == (photos == 0));
}

TEST_CASE("Captions stay above the foot whatever shape the pictures have", "[print]") {
    const double aspect = GENERATE(0.3, 1.0, 1.33, 1.5, 2.4);
    const std::string stage = GENERATE("as-removed", "cleaned");
    INFO("aspect " << aspect);
    book::PartFile part_file(test::sample_part());
    auto content = test::sample_content(part_file);
    for (int i = 1; i <= 9; ++i) {
        part_file.photos.push_back(test::sample_photo(i, stage));
        content.copies[{i}] =
            test::print_copy_of(test::asymmetric_picture(static_cast<int>(200 * aspect), 200));
    }
    Drawn drawn(0);
    drawn.draw(content, Paper::a4());
    check_margins(drawn.pdf);
}

TEST_CASE("The document's facts and paper are as asked for", "[print]") {
    const std::string facts = run_tool({"pdfinfo", "-rawdates", Drawn(0).pdf.string()}).output;
    CHECK_THAT(facts, Catch::Contains("Title:           Condition report PET-00417-D, Axlebox cover\n"));
    CHECK_THAT(facts, Catch::Contains("Author:          Fenny Junction workshop\n"));
    CHECK_THAT(facts, Catch::Contains("Creator:         stripbook 0.1.0\n"));
    CHECK_THAT(facts, Catch::Contains("CreationDate:    D:20261125000000+00'00'\n"));
    CHECK_THAT(facts, Catch::Contains("ModDate:         D:20261125000000+00'00'\n"));
    CHECK_THAT(facts, Catch::Contains("(A4)"));
    CHECK_THAT(run_tool({"pdfinfo", Drawn(0, Paper::us_letter()).pdf.string()}).output,
               Catch::Contains("(letter)"));
}

TEST_CASE("What is no date is refused", "[print]") {
    const test::ScratchFolder folder;
    const book::PartFile part_file(test::sample_part());
    auto content = test::sample_content(part_file);
    for (const char* wrong : {"", "25.11.2026", "2026-13-01", "2026-1x-01", "20261-1-01"}) {
        content.date = wrong;
        CHECK_THROWS_AS(draw_report(content, Paper::a4(), folder / "report.pdf"), WrongUse);
    }
}

TEST_CASE("Words can be selected in the order they are read", "[print]") {
    const std::string words = test::words_of(Drawn(3).pdf);
    std::size_t at = 0;
    for (const char* word : {"Condition report",
                             "Petrel, inspection railcar (PET)",
                             "PET-00417-D",
                             "Axlebox cover",
                             "R/PET-00417-D",
                             "Running gear",
                             "Bogie 1 / axle 1 / left",
                             "Rack B, shelf 3",
                             "As removed",
                             "FVA_1001.JPG",
                             "page 1 of",
                             "Details and bench",
                             "FVA_1002.JPG",
                             "Condition and path",
                             "Local codes and licensed practice come first",
                             "a dimension from a photo is for identification",
                             "Light pitting",
                             "wear",
                             "earlier repair",
                             "Gauge readings",
                             "undecided",
                             "use again",
                             "Sign-off",
                             "inspected by",
                             "decided by",
                             "accepted by",
                             "FV-1043-2",
                             "History"}) {
        INFO(word);
        auto found = words.find(word, at);
        if (found == std::string::npos && std::islower(static_cast<unsigned char>(word[0])) != 0) {
            std::string capital = word;
            capital[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(capital[0])));
            found = words.find(capital, at);
        }
        REQUIRE(found != std::string::npos);
        at = found;
    }
}

TEST_CASE("Names in Latin, Greek and Cyrillic letters and names like markup print as they are", "[print]") {
    for (const char* name : {"Büchse, Ölfänger Nº 5", "Łożysko ślizgowe", "Κάλυμμα άξονα", "Крышка буксы",
                             "<b>\"it's\" & (so) \\on</b>"}) {
        const Drawn drawn(0, Paper::a4(), part_named(name));
        check_sound(drawn.pdf);
        CHECK_THAT(test::words_of(drawn.pdf), Catch::Contains(name));
        CHECK_THAT(run_tool({"pdfinfo", drawn.pdf.string()}).output, Catch::Contains(name));
        CHECK(drawn.report.remarks.empty());
    }
}

TEST_CASE("A name of 300 characters is wrapped and cut", "[print]") {
    for (const std::string& name :
         {std::string(300, 'W'), std::string(300, 'i'), std::string(1000000, 'x')}) {
        const Drawn drawn(1, Paper::a4(), part_named(name));
        check_sound(drawn.pdf);
        check_margins(drawn.pdf);
        CHECK_THAT(test::words_of(drawn.pdf, 1), Catch::Contains("…"));
    }
}

TEST_CASE("An Arabic name is replaced by a note and the person is told", "[print]") {
    const Drawn drawn(0, Paper::a4(), part_named("غطاء محور"));
    check_sound(drawn.pdf);
    CHECK_THAT(test::words_of(drawn.pdf), Catch::Contains("(name in Arabic script, 9 characters"));
    REQUIRE(drawn.report.remarks.size() == 1);
    CHECK_THAT(drawn.report.remarks[0], Catch::Contains("Arabic script"));
}

TEST_CASE("The QR code on the page says that this is the report of the part", "[print]") {
    const Drawn drawn(0);
    const std::string stem = (drawn.folder / "page").string();
    REQUIRE(run_tool({"pdftoppm", "-r", "200", "-png", "-f", "1", "-l", "1", "-singlefile",
                      drawn.pdf.string(), stem})
                .status == 0);
    CHECK(run_tool({"zbarimg", "-q", "--raw", stem + ".png"}).output == "R/PET-00417-D\n");
}

TEST_CASE("The same part on the same date gives the same bytes", "[print]") {
    const Drawn first(5);
    const Drawn second(5);
    CHECK(test::read_file(first.pdf) == test::read_file(second.pdf));
}

TEST_CASE("Bookmarks lead to the sections", "[print]") {
    const std::string outlines =
        run_tool({"qpdf", "--json", "--json-key=outlines", Drawn(3).pdf.string()}).output;
    for (const char* title :
         {"PET-00417-D Axlebox cover", "As removed", "Details and bench", "Condition and path", "History"}) {
        CHECK_THAT(outlines, Catch::Contains(std::string("\"title\": \"") + title + "\""));
    }
}

TEST_CASE("A photo that does not decode leaves a note in its place", "[print]") {
    book::PartFile part_file(test::sample_part());
    for (int i = 1; i <= 4; ++i) {
        part_file.photos.push_back(test::sample_photo(i, "as-removed"));
    }
    auto content = test::sample_content(part_file);
    content.copies[{1}].fault = "the file ends in the middle of the picture";
    content.copies[{2}] = {"this is no JPEG", 300, 200, false, ""};
    content.copies[{3}] = test::print_copy_of(test::asymmetric_picture(300, 200));
    content.copies[{3}].fault = "the lower half is missing";
    // p4 has no copy at all
    Drawn drawn(0);
    drawn.draw(content, Paper::a4());
    check_sound(drawn.pdf);
    check_margins(drawn.pdf);
    CHECK_THAT(test::words_of(drawn.pdf),
               Catch::Contains("p1 cannot be shown: the file ends in the middle of the picture") &&
                   Catch::Contains("p2 cannot be shown: it does not decode"));
    CHECK_THAT(test::words_of(drawn.pdf), Catch::Contains("is not whole"));
    CHECK(drawn.report.photos == 1);
    CHECK(drawn.report.remarks.size() == 4);
    CHECK(test::pictures_of(drawn.pdf).size() == 1);
}

TEST_CASE("Until a photo is marked as-removed, those without a stage are shown large", "[print]") {
    book::PartFile part_file(test::sample_part());
    auto content = test::sample_content(part_file);
    for (int i = 1; i <= 3; ++i) {
        part_file.photos.push_back(test::sample_photo(i, ""));
        content.copies[{i}] = test::print_copy_of(test::asymmetric_picture(300, 200));
    }
    const std::vector<double> all_large{175, 134, 134};
    CHECK(print::longest_sides_mm(part_file, Paper::a4()) == all_large);
    Drawn drawn(0);
    drawn.draw(content, Paper::a4());
    const std::string first_page = test::words_of(drawn.pdf, 1);
    CHECK_THAT(first_page,
               Catch::Contains("No linked photo is marked as-removed") && Catch::Contains("FVA_1001.JPG"));
    part_file.photos[1].stage = "as-removed";
    const std::vector<double> second_large{85.5, 175, 85.5};
    CHECK(print::longest_sides_mm(part_file, Paper::a4()) == second_large);
}

TEST_CASE("A book in inches shows the height in inches and millimetres", "[print]") {
    const book::PartFile part_file(test::sample_part());
    auto content = test::sample_content(part_file);
    content.in_inches = true;
    Drawn drawn(0);
    drawn.draw(content, Paper::a4());
    CHECK_THAT(test::words_of(drawn.pdf), Catch::Contains("0.630 in (16 mm) above the bench"));
}

TEST_CASE("A condition too long for the page is cut and the person is told", "[print]") {
    book::Part part = test::sample_part();
    for (int i = 0; i < 600; ++i) {
        part.condition += "pitted all over ";
    }
    const Drawn drawn(0, Paper::a4(), part);
    check_margins(drawn.pdf);
    REQUIRE(drawn.report.remarks.size() == 1);
    CHECK_THAT(drawn.report.remarks[0], Catch::Contains("too long for the report"));
}

TEST_CASE("Videos are listed by name and not drawn", "[print]") {
    book::PartFile part_file(test::sample_part());
    part_file.photos.push_back(test::sample_photo(1, ""));
    part_file.photos[0].photo.original.kind = book::FileKind::video;
    part_file.photos[0].photo.name_on_card = "DCIM/101FERRO/FVA_0001.MP4";
    Drawn drawn(0);
    drawn.draw(test::sample_content(part_file), Paper::a4());
    CHECK_THAT(test::words_of(drawn.pdf), Catch::Contains("Videos") && Catch::Contains("FVA_0001.MP4"));
    CHECK(drawn.report.remarks.empty());
}

TEST_CASE("The history shows the last twelve changes and counts the earlier ones", "[print]") {
    book::PartFile part_file(test::sample_part());
    for (int i = 1; i <= 15; ++i) {
        part_file.history.push_back({"2026-03-20T17:05:11Z", "M. Hale", "PET-00417-D", "storage", "",
                                     "shelf " + std::to_string(i), "parts import parts.csv"});
    }
    Drawn drawn(0);
    drawn.draw(test::sample_content(part_file), Paper::a4());
    const std::string words = test::words_of(drawn.pdf);
    CHECK_THAT(words, Catch::Contains("3 earlier") && Catch::Contains("storage set to \"shelf 15\"") &&
                          Catch::Contains("storage set to \"shelf 4\"") && !Catch::Contains("\"shelf 3\""));
}

TEST_CASE("A table of dimensions has above it what it rests on, and no row alone on a page", "[print]") {
    const int rows = GENERATE(1, 2, 9, range(16, 34));
    INFO(rows << " rows");
    const auto row_name = [](int row) { return "row " + std::to_string(100 + row); };
    book::PartFile part_file(test::sample_part());
    book::Measurement measurement(part_file.part.tag);
    measurement.id = 1;
    measurement.photo = {9};
    measurement.marker = "bench";
    measurement.face_height_mm = 16;
    measurement.notes = {"A note on it."};
    for (int row = 1; row <= rows; ++row) {
        book::DimensionRecord dimension;
        dimension.number = row;
        dimension.name = "hole diameter";
        dimension.unit = "mm";
        dimension.value = 13.5;
        dimension.expanded = 0.4;
        dimension.note = row_name(row);
        measurement.dimensions.push_back(dimension);
    }
    part_file.measurements.push_back(measurement);
    auto content = test::sample_content(part_file);
    content.overlays[1] = test::print_copy_of(test::asymmetric_picture(300, 320));
    Drawn drawn(0);
    drawn.draw(content, Paper::a4());
    check_margins(drawn.pdf);
    const auto page_with = [&](const std::string& words) {
        for (int page = 1; page <= drawn.report.pages; ++page) {
            if (test::words_of(drawn.pdf, page).find(words) != std::string::npos) {
                return page;
            }
        }
        return 0;
    };
    const int first = page_with(row_name(1));
    REQUIRE(first > 0);
    CHECK(page_with("face 16 mm above the bench") == first);
    CHECK(page_with("A note on it.") == first);
    CHECK(page_with("with what was measured drawn on it") == first);
    CHECK(page_with(row_name(rows)) == page_with(row_name(std::max(1, rows - 1))));
}
