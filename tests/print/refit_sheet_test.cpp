// The refit sheet on paper, looked at with other people's programs.
#include <algorithm>
#include <catch2/catch.hpp>
#include <opencv2/imgproc.hpp>

#include "errors.h"
#include "print/outside_tools.h"
#include "print/refit_sheet_drawing.h"
#include "print/sample_part.h"
#include "scratch_folder.h"

using namespace stripbook;
using Catch::Contains;
using test::run_tool;

namespace {

const print::RefitSheetWords sheet_words{"Petrel, inspection railcar", "what can go in now", "2026-11-25",
                                         "stripbook 0.1.0", false};

book::PartPhoto photo_of(const book::Part& part, int number, const std::string& stage = "as-removed") {
    auto photo = test::sample_photo(number, stage);
    photo.link.tag = part.tag;
    return photo;
}

// Part `serial` with photos of these numbers.
print::RefitSheetPart part_with(int serial, const std::vector<int>& photos, std::size_t step) {
    book::Part record = test::sample_part();
    record.tag = number::TagNumber(record.tag.book(), serial);
    print::RefitSheetPart part{book::PartFile(record)};
    part.step = step;
    for (const int number : photos) {
        part.file.photos.push_back(photo_of(record, number));
    }
    return part;
}

book::RefitNote note_of(book::RefitNoteKind kind, const std::string& words) {
    book::RefitNote note;
    note.kind = kind;
    note.words = words;
    note.number = 1;
    return note;
}

book::RefitNote shim(const std::string& place, double mm) {
    auto note = note_of(book::RefitNoteKind::shim, "");
    note.place = place;
    note.value = mm;
    note.unit = "mm";
    return note;
}

// Every photo is the same picture, but for those left out.
print::CopyMaker copies(const std::vector<int>& without = {}, int width = 600, int height = 400) {
    return [=](const std::vector<print::SheetPhoto>& photos) {
        std::map<book::PhotoNumber, photo::PrintCopy> made;
        for (const auto& photo : photos) {
            const auto number = photo.photo->photo.number;
            if (std::find(without.begin(), without.end(), number.value) == without.end()) {
                made[number] = test::print_copy_of(test::asymmetric_picture(width, height));
            } else {
                made[number].fault = "the file ends too early";
            }
        }
        return made;
    };
}

struct Sheet {
    explicit Sheet(const std::vector<std::vector<print::RefitSheetPart>>& steps, bool letter = false,
                   const print::CopyMaker& make = copies(), bool overview = false,
                   const print::RefitSheetWords& words = sheet_words) {
        print::RefitSheetDrawing drawing(words, letter ? print::Paper::us_letter() : print::Paper::a4(),
                                         make);
        std::vector<print::OverviewLine> lines;
        for (const auto& step : steps) {
            for (const auto& part : step) {
                lines.push_back({part.step, part.file.part});
            }
        }
        if (overview) {
            drawing.add_overview(lines);
        }
        for (const auto& step : steps) {
            drawing.add_step(step);
        }
        drawn = drawing.finish();
        test::write_file(pdf, drawn.pdf);
    }
    // Pages that hold these words.
    [[nodiscard]] std::vector<int> pages_with(const std::string& words) const {
        std::vector<int> pages;
        for (int page = 1; page <= test::page_count(pdf); ++page) {
            if (test::words_of(pdf, page).find(words) != std::string::npos) {
                pages.push_back(page);
            }
        }
        return pages;
    }
    [[nodiscard]] int pictures_on(int page) const {
        const auto all = test::pictures_of(pdf);
        return static_cast<int>(
            std::count_if(all.begin(), all.end(), [&](const auto& p) { return p.page == page; }));
    }

    test::ScratchFolder folder;
    std::filesystem::path pdf = folder / "sheet.pdf";
    print::DrawnRefitSheet drawn;
};

}  // namespace

TEST_CASE("A refit sheet is a sound PDF with its fonts in it, on A4 and on US Letter", "[print]") {
    for (const bool letter : {false, true}) {
        const Sheet sheet({{part_with(417, {1, 2}, 1)}, {part_with(424, {}, 2)}}, letter, copies(), true);
        CHECK(run_tool({"qpdf", "--check", sheet.pdf.string()}).status == 0);
        CHECK_THAT(run_tool({"pdfinfo", sheet.pdf.string()}).output, Contains(letter ? "letter" : "A4"));
        const std::string fonts = run_tool({"pdffonts", sheet.pdf.string()}).output;
        CHECK_THAT(fonts, Contains("DejaVuSans"));
        // Columns emb, sub, uni of every font: embedded and subset.
        CHECK_THAT(fonts, !Contains(" no  no"));
        CHECK(sheet.drawn.remarks.empty());
        CHECK_THAT(run_tool({"qpdf", "--json", "--json-key=outlines", sheet.pdf.string()}).output,
                   Contains("1  PET-00417-D Axlebox cover") && Contains("Steps on this sheet"));
    }
}

TEST_CASE("What a mechanic needs stands beside the photos", "[print]") {
    auto part = part_with(417, {1, 2}, 12);
    using Kind = book::RefitNoteKind;
    auto torque = note_of(Kind::torque, "M12 nuts");
    torque.value = 70;
    torque.unit = "N.m";
    torque.source = "works manual p. 12";
    auto fastener = note_of(Kind::fastener, "");
    fastener.size = "M12";
    fastener.length = "50";
    fastener.count = 4;
    auto pin = note_of(Kind::always_new, "split pin 4 x 40");
    pin.count = 2;
    part.notes = {note_of(Kind::match_marks, "two dots at the top"),
                  note_of(Kind::way_round, "arrow to the front"),
                  shim("left horn", 0.8),
                  note_of(Kind::setting, "as found"),
                  fastener,
                  torque,
                  pin};
    part.cautions = {"heavy: 38 kg"};
    part.together_with = {"PET-00424-F Brake block"};
    const Sheet sheet({{part}});
    REQUIRE(test::page_count(sheet.pdf) == 1);
    std::string words = test::words_of(sheet.pdf);
    std::replace(words.begin(), words.end(), '\n', ' ');
    for (const char* expected : {"12",
                                 "417",
                                 "PET-00417-D",
                                 "Axlebox cover",
                                 "Goes to: Bogie 1 / axle 1 / left",
                                 "Lies in: Rack B, shelf 3",
                                 "two dots at the top",
                                 "arrow to the front",
                                 "left horn: 0.8 mm",
                                 "as found",
                                 "4 of M12 x 50",
                                 "M12 nuts: 70 N.m",
                                 "= 51.6 lbf.ft",
                                 "works manual p. 12",
                                 "2 of split pin 4 x",
                                 "Caution: heavy: 38 kg",
                                 "Goes in together with PET-00424-F",
                                 "Local codes and licensed practice come before this sheet",
                                 "in place",
                                 "initials",
                                 "checked",
                                 "p1",
                                 "p2"}) {
        CHECK_THAT(words, Contains(expected));
    }
    CHECK(sheet.pictures_on(1) == 2);
    auto inches = sheet_words;
    inches.in_inches = true;
    // 0.8 / 25.4 = 0.0315 (NIST SP 811: 1 in = 25.4 mm exactly)
    CHECK_THAT(test::words_of(Sheet({{part}}, false, copies(), false, inches).pdf), Contains("0.0315 in"));
}

TEST_CASE("Two photos stand on a page, large, and a step is never torn", "[print]") {
    // One photo each: two parts a page. Two photos each: one part a page.
    const Sheet single({{part_with(1, {1}, 1)}, {part_with(2, {2}, 2)}, {part_with(3, {3}, 3)}});
    CHECK(test::page_count(single.pdf) == 2);
    CHECK(single.pictures_on(1) == 2);
    const Sheet pairs({{part_with(1, {1, 2}, 1)}, {part_with(2, {3, 4}, 2)}, {part_with(3, {}, 3)}});
    CHECK(pairs.pictures_on(1) == 2);
    CHECK(pairs.pictures_on(2) == 2);
    // More photos than a page takes: it goes on on whole pages, says so, and is ticked off once.
    const Sheet many({{part_with(417, {1, 2, 3, 4, 5, 6}, 1)}});
    CHECK(test::page_count(many.pdf) == 2);
    CHECK(many.pages_with("goes on on the next page") == std::vector{1});
    CHECK(many.pages_with("continued from the page before") == std::vector{2});
    CHECK(many.pages_with("in place") == std::vector{2});
    CHECK(many.pages_with("2 more in the book: stripbook find 417") == std::vector{1});
    // Two parts that go in together stand on one page, though half a page was still free before them.
    auto first = part_with(2, {2}, 2);
    auto second = part_with(3, {3}, 2);
    const Sheet together({{part_with(1, {1}, 1)}, {first, second}});
    CHECK(together.pages_with("PET-00002") == std::vector{2});
    CHECK(together.pages_with("PET-00003") == std::vector{2});
}

TEST_CASE("However much is noted of a part, nothing of it is lost", "[print]") {
    for (const auto& photos : {std::vector<int>{}, std::vector<int>{1}, std::vector<int>{1, 2, 3}}) {
        auto part = part_with(417, photos, 1);
        for (int i = 1; i <= 90; ++i) {
            part.notes.push_back(shim("place-" + std::to_string(1000 + i), 0.1 * i));
        }
        if (photos.size() == 3) {
            part.cautions.assign(
                20, "spring under load behind the cover, and the cover alone is heavier than two can hold");
            part.held_up_by.assign(
                50, "PET-00424-F Brake block, trailing, with everything that hangs on it must be in first");
            part.together_with.assign(50, "PET-00424-F Brake block, trailing");
        }
        for (const bool letter : {false, true}) {
            const Sheet sheet({{part}}, letter);
            const std::string words = test::words_of(sheet.pdf);
            for (int i = 1; i <= 90; ++i) {
                CHECK_THAT(words, Contains("place-" + std::to_string(1000 + i)));
            }
            CHECK(sheet.pages_with("in place").size() == 1);
            CHECK(sheet.drawn.photos == static_cast<int>(photos.size()));
            CHECK(sheet.pages_with("read it first").empty() == part.cautions.empty());
            CHECK(sheet.pages_with("44 more reasons").empty() == part.held_up_by.empty());
            // Nothing runs into the foot or off the paper: the lowest 8 mm and the right 8 mm stay white.
            for (const auto& page : test::pages_of(sheet.pdf, 50)) {
                const int white = 50 * 8 / 25;
                CHECK(cv::countNonZero(page(cv::Rect(page.cols - white, 0, white, page.rows)) < 128) == 0);
                CHECK(cv::countNonZero(page(cv::Rect(0, page.rows - white / 2, page.cols, white / 2)) <
                                       128) == 0);
            }
        }
    }
}

TEST_CASE("A part without photos or notes, with a broken photo or an unprintable name still prints",
          "[print]") {
    auto bare = part_with(1, {}, 1);
    bare.file.part.name = "";
    bare.file.part.place = "";
    const Sheet none({{bare}});
    CHECK_THAT(test::words_of(none.pdf), Contains("name not yet known") && Contains("No as-removed photo") &&
                                             Contains("place not known"));
    CHECK(none.drawn.remarks.empty());
    const Sheet broken({{part_with(2, {1, 2}, 1)}}, false, copies({1}));
    CHECK_THAT(test::words_of(broken.pdf), Contains("p1 cannot be shown: the file ends too early"));
    REQUIRE(broken.drawn.remarks.size() == 1);
    CHECK_THAT(broken.drawn.remarks[0], Contains("p1 is not shown"));
    auto arabic = part_with(3, {}, 1);
    arabic.file.part.name = "\xD8\xB5\xD9\x85\xD8\xA7\xD9\x85";
    CHECK_FALSE(Sheet({{arabic}}).drawn.remarks.empty());
    auto circled = part_with(4, {}, 0);
    circled.held_up_by = {"what people said about the order goes round in a circle"};
    CHECK_THAT(test::words_of(Sheet({{circled}}).pdf), Contains("Not yet: what people said"));
}

TEST_CASE("A part stripped further shows how its parent sat, each photo once in the file", "[print]") {
    auto part = part_with(2, {1}, 1);
    auto parent = part_with(417, {1, 2, 3, 4}, 2);
    part.parent = parent.file;
    const Sheet sheet({{part}, {parent}});
    CHECK_THAT(test::words_of(sheet.pdf, 1),
               Contains("what it was stripped from: PET-00417-D Axlebox cover"));
    CHECK(sheet.drawn.photos == 2 + 4);  // of the parent's first two, one is the part's own already
    CHECK_THAT(run_tool({"pdfimages", "-list", sheet.pdf.string()}).output, Contains("image"));
    const std::string qpdf =
        run_tool({"qpdf", "--qdf", "--object-streams=disable", sheet.pdf.string(), "-"}).output;
    std::size_t images = 0;
    for (auto at = qpdf.find("/Subtype /Image"); at != std::string::npos;
         at = qpdf.find("/Subtype /Image", at + 1)) {
        ++images;
    }
    CHECK(images == 4);
}

TEST_CASE("A photo that the camera stored on its side stands upright on the sheet", "[print]") {
    auto part = part_with(417, {1}, 1);
    part.file.photos[0].photo.orientation = 6;  // CIPA DC-008: turn it 90 degrees clockwise
    const Sheet sheet({{part}});
    const cv::Mat page = test::pages_of(sheet.pdf, 60).at(0);
    cv::Mat ink;
    cv::compare(page, 252, ink, cv::CMP_LT);
    std::vector<std::vector<cv::Point>> outlines;
    cv::findContours(ink, outlines, cv::RETR_EXTERNAL, cv::CHAIN_APPROX_SIMPLE);
    cv::Rect largest;
    for (const auto& outline : outlines) {
        const cv::Rect box = cv::boundingRect(outline);
        largest = box.area() > largest.area() ? box : largest;
    }
    const cv::Mat photo = page(largest);
    CHECK(photo.cols / static_cast<double>(photo.rows) == Approx(400.0 / 600).epsilon(0.03));
    // The dark corner of the stored picture is its top left: turned clockwise it is the top right.
    CHECK(photo.at<unsigned char>(photo.rows / 10, photo.cols * 9 / 10) < 60);
    CHECK(photo.at<unsigned char>(photo.rows / 10, photo.cols / 10) > 180);
}

TEST_CASE("The list in front names the page of every part", "[print]") {
    std::vector<std::vector<print::RefitSheetPart>> steps;
    for (int i = 1; i <= 40; ++i) {
        steps.push_back({part_with(i, {i}, static_cast<std::size_t>(i))});
    }
    const Sheet sheet(steps, false, copies(), true);
    // Forty lines take two pages, then two parts a page.
    CHECK(test::page_count(sheet.pdf) == 22);
    CHECK_THAT(test::words_of(sheet.pdf, 2), Contains("40") && Contains("22"));
    CHECK_THAT(test::words_of(sheet.pdf, 22), Contains("PET-00040"));
}
