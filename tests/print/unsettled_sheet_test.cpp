#include "print/unsettled_sheet.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>
#include <sstream>

#include "errors.h"
#include "print/outside_tools.h"
#include "print/sample_part.h"
#include "scratch_folder.h"

using namespace stripbook;
using namespace stripbook::test;
using Catch::Contains;
using print::GroupOnSheet;

namespace {

book::Photo photo_taken(int number, int orientation = 1) {
    book::Photo photo = sample_photo(number, "").photo;
    photo.orientation = orientation;
    return photo;
}

print::SuggestionOnSheet suggestion(char letter, int serial, const std::string& name,
                                    std::optional<double> chance) {
    const number::TagNumber tag(number::BookCode::from_typed("PET"), serial);
    return {{letter, tag, letter - 'a' + 1, chance}, name, photo_taken(900)};
}

GroupOnSheet group_of(int number, int first, int photos) {
    GroupOnSheet group;
    group.group.number = {number};
    group.group.why = "no tag in it, and it was taken 12 min 03 s after the photo before it";
    for (int i = 0; i < photos; ++i) {
        group.photos.push_back(photo_taken(first + i));
        group.group.photos.push_back({first + i});
    }
    return group;
}

std::map<book::PhotoNumber, photo::PrintCopy> copies_of(const std::vector<GroupOnSheet>& groups) {
    std::map<book::PhotoNumber, photo::PrintCopy> copies;
    const auto copy = print_copy_of(asymmetric_picture(268, 201));
    copies[{900}] = copy;
    for (const auto& group : groups) {
        for (const auto& photo : group.photos) {
            copies[photo.number] = copy;
        }
    }
    return copies;
}

// The words of a PDF with every line break a space: where lines break is not the point.
std::string unbroken_words_of(const std::filesystem::path& pdf) {
    std::istringstream words(words_of(pdf));
    std::string all;
    for (std::string word; words >> word;) {
        all += word + " ";
    }
    return all;
}

void check_fonts_are_embedded(const std::filesystem::path& pdf) {
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

print::Pack sheet_of(const std::vector<GroupOnSheet>& groups,
                     const std::map<book::PhotoNumber, photo::PrintCopy>& copies,
                     const std::string& paper = "a4") {
    return print::unsettled_sheet(groups, copies, "Petrel, inspection railcar", paper,
                                  {"2026-11-25", "0.1.0"});
}

}  // namespace

TEST_CASE("Chances are said in words that never promise", "[print]") {
    CHECK(print::chance_words(0.713) == "likely, about 71 %");
    CHECK(print::chance_words(0.9999) == "very likely, about 99 %");
    CHECK(print::chance_words(0.0001) == "unlikely, about 1 %");
    CHECK(print::chance_words(0.3) == "possible, about 30 %");
    CHECK(print::chance_words(std::nullopt) == "suggested");
}

TEST_CASE("A group's times are said as one span", "[print]") {
    auto photos = group_of(1, 1, 2).photos;
    CHECK(print::time_span_words(photos) == "2026-03-20 08:58:15");
    photos[1].camera_time.text = "2026-03-20T09:02:10";
    CHECK(print::time_span_words(photos) == "2026-03-20 08:58:15 to 09:02:10");
    photos[1].camera_time.text = "2026-03-21T09:02:10";
    CHECK(print::time_span_words(photos) == "2026-03-20 08:58:15 to 2026-03-21 09:02:10");
    CHECK(print::time_span_words({}).empty());
}

TEST_CASE("The sheet is a whole PDF on either paper, with every group, suggestion and command", "[print]") {
    const ScratchFolder scratch;
    std::vector<GroupOnSheet> groups{group_of(4, 12, 4), group_of(7, 30, 14), group_of(11, 60, 60),
                                     group_of(12, 200, 1)};
    groups[0].suggestions = {suggestion('a', 417, "Axlebox cover", 0.71),
                             suggestion('b', 424, "Brake block, left", 0.2), suggestion('c', 431, "", 0.05)};
    groups[1].suggestions = {suggestion('b', 424, "Brake block, left", std::nullopt)};
    for (const std::string paper : {"a4", "letter"}) {
        const auto pack = sheet_of(groups, copies_of(groups), paper);
        const auto file = scratch / (paper + ".pdf");
        write_file(file, pack.bytes);
        CHECK(pack.remarks.empty());
        CHECK(run_tool({"qpdf", "--check", file.string()}).status == 0);
        CHECK(page_count(file) == pack.pages);
        CHECK(pack.pages == 2);
        const std::string words = unbroken_words_of(file);
        for (const char* expected :
             {"Group 4", "p12-p15", "Ferrow FV-20 A10442", "12 min 03 s", "PET-00417-D", "Axlebox cover",
              "likely, about 71 %", "name not yet known", "another part", "no part", "stripbook settle 4",
              "yes / b / c", "Group 11", "29 more between", "Nothing speaks for any part", "Petrel",
              "page 1 of 2"}) {
            INFO(expected);
            CHECK_THAT(words, Contains(expected));
        }
        // A thumbnail each, of the largest group 31, and the tag shots: pdfimages counts them.
        CHECK(pictures_of(file).size() == 4 + 14 + 31 + 1 + 4);
        check_fonts_are_embedded(file);
    }
    CHECK_THROWS_AS(sheet_of(groups, copies_of(groups), "postcard"), WrongUse);
}

TEST_CASE("The suggestion that yes would not take is not called yes", "[print]") {
    const ScratchFolder scratch;
    std::vector<GroupOnSheet> groups{group_of(4, 12, 1)};
    groups[0].suggestions = {suggestion('b', 424, "Brake block", 0.8), suggestion('a', 417, "Cover", 0.1)};
    groups[0].suggestions[0].suggestion.rank = 1;
    groups[0].suggestions[1].suggestion.rank = 2;
    write_file(scratch / "sheet.pdf", sheet_of(groups, copies_of(groups)).bytes);
    CHECK_THAT(words_of(scratch / "sheet.pdf"), Contains("b / a / the tag's number"));
}

TEST_CASE("Thumbnails stand the right way up", "[print]") {
    const ScratchFolder scratch;
    // Stored pictures whose dark corner is, upright, always at the top left: EXIF 1 and 6 (turn a quarter
    // clockwise to look at it; CIPA DC-008).
    std::vector<GroupOnSheet> groups{group_of(4, 12, 2)};
    groups[0].photos[1].orientation = 6;
    auto copies = copies_of(groups);
    cv::Mat stored;
    cv::rotate(asymmetric_picture(201, 268), stored, cv::ROTATE_90_COUNTERCLOCKWISE);
    copies[{13}] = print_copy_of(stored);
    write_file(scratch / "sheet.pdf", sheet_of(groups, copies).bytes);
    const cv::Mat page = pages_of(scratch / "sheet.pdf", 100, 1).front();
    // The darkest large patch in the right half of the first thumbnail row is the second picture's own top
    // left: find both patches as connected dark blobs of some size.
    cv::Mat dark;
    cv::threshold(page, dark, 60, 255, cv::THRESH_BINARY_INV);
    cv::morphologyEx(dark, dark, cv::MORPH_OPEN, cv::Mat::ones(9, 9, CV_8UC1));
    cv::Mat labels, stats, centres;
    const int found = cv::connectedComponentsWithStats(dark, labels, stats, centres);
    REQUIRE(found == 3);  // the page, and a dark corner in each picture
    // Of the upright picture a third wide, a quarter high: wider than high in the first, in the second as
    // 201/3 to 268/4, that is square.
    std::vector<cv::Rect> patches;
    for (int i = 1; i < found; ++i) {
        patches.emplace_back(stats.at<int>(i, cv::CC_STAT_LEFT), stats.at<int>(i, cv::CC_STAT_TOP),
                             stats.at<int>(i, cv::CC_STAT_WIDTH), stats.at<int>(i, cv::CC_STAT_HEIGHT));
    }
    std::sort(patches.begin(), patches.end(), [](const cv::Rect& a, const cv::Rect& b) { return a.x < b.x; });
    CHECK(patches[0].width / double(patches[0].height) == Approx(268 / 3. / (201 / 4.)).epsilon(0.15));
    CHECK(patches[1].width / double(patches[1].height) == Approx(1).epsilon(0.15));
    CHECK(std::abs(patches[0].y - patches[1].y) <= 3);
}

TEST_CASE("A picture that cannot be shown is said in its place", "[print]") {
    const ScratchFolder scratch;
    std::vector<GroupOnSheet> groups{group_of(4, 12, 2)};
    auto copies = copies_of(groups);
    copies[{13}] = {};
    copies[{13}].fault = "the file ends too early";
    write_file(scratch / "sheet.pdf", sheet_of(groups, copies).bytes);
    CHECK_THAT(words_of(scratch / "sheet.pdf"), Contains("cannot be shown") && Contains("p13"));
}
