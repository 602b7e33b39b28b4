#include "print/caption.h"

#include <catch2/catch.hpp>

#include "print/sample_part.h"

using namespace stripbook;
using namespace stripbook::print;

namespace {
const Lettering lettering;

std::string all_lines(const book::PartPhoto& photo) {
    PrintableText printable(lettering, "PET-00417-D");
    std::string out;
    for (const std::string& line : caption_of(photo, printable).lines) {
        out += line + "\n";
    }
    return out;
}
}  // namespace

TEST_CASE("A caption says file, stage, time, camera and why the photo is linked", "[print]") {
    CHECK(all_lines(test::sample_photo(12, "as-removed")) ==
          "101FERRO/FVA_1012.JPG\n"
          "Stage: as-removed\n"
          "Taken 2026-03-20 08:58:15 by the camera's clock\n"
          "Ferrow FV-20 A10442\n"
          "Linked (sure): the tag is in the picture\n");
}

TEST_CASE("A caption shows a person's word, a corrected time and what is not known", "[print]") {
    auto photo = test::sample_photo(12, "");
    photo.link.by_person = true;
    photo.link.sure = 1;
    photo.photo.corrected_seconds -= 440;  // 7 min 20 s fast
    photo.photo.camera_time.utc_offset = "+01:00";
    CHECK_THAT(all_lines(photo),
               Catch::Contains("Stage not set\n") && Catch::Contains("Linked: a person said so\n") &&
                   Catch::Contains("Taken 2026-03-20 08:58:15 +01:00 by the camera's clock; "
                                   "corrected 2026-03-20 08:50:55\n"));
    photo.photo.utc_how = "time not known: the camera's clock had lost its time";
    CHECK_THAT(all_lines(photo), Catch::Contains("by the camera's clock; true time not known\n"));
    photo.photo.utc_how = "";
    photo.photo.camera_time.source = "file time";
    photo.stage = "cleaned";
    photo.stage_by_person = true;
    CHECK_THAT(all_lines(photo),
               Catch::Contains("by the file time") && Catch::Contains("Stage: cleaned (a person said so)"));
    photo.photo.camera_time = {};
    CHECK_THAT(all_lines(photo), Catch::Contains("Time not known"));
}

TEST_CASE("How sure a link is, is a word: nobody measured a figure for it", "[print]") {
    auto photo = test::sample_photo(12, "as-removed");
    photo.link.sure = 0.9;
    photo.link.why = "it follows the tag shot p11";
    CHECK_THAT(all_lines(photo), Catch::Contains("Linked (likely): it follows the tag shot p11"));
}

TEST_CASE("Seconds are written as GNU date writes them", "[print]") {
    // date -u -d @N '+%F %T'
    CHECK(time_for_people(1773997095.9) == "2026-03-20 08:58:15");
    CHECK(time_for_people(951782400.0) == "2000-02-29 00:00:00");
    CHECK(time_for_people(-1.0) == "1969-12-31 23:59:59");
    CHECK(time_for_people(std::nan("")) == "not known");
}
