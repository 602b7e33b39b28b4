// The program stripbook-samples as it is typed.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "sample_maker/command.h"
#include "scratch_folder.h"
#include "where.h"

using namespace stripbook::test;
using nlohmann::json;

namespace {

CommandResult samples(const std::string& arguments) {
    return run(quoted(sample_maker_path()) + " " + arguments + " 2>&1");
}

}  // namespace

TEST_CASE("One tag is written and its QR code reads", "[sample_maker]") {
    const ScratchFolder folder;
    const auto made = samples("one --tag PET-00417 --px-per-mm 6 --turn 30 --tilt 10 --orientation 6 --out " +
                              quoted(folder / "x.jpg") + " --truth " + quoted(folder / "x.json"));
    INFO(made.output);
    REQUIRE(made.status == 0);
    CHECK(run("zbarimg -q --raw -Sdisable -Sqrcode.enable " + quoted(folder / "x.jpg") + " 2>/dev/null")
              .output == "PET-00417-D\n");
    const json shot = json::parse(bytes_of(folder / "x.json"))["shots"][0];
    CHECK(shot["orientation"] == 6);
    CHECK(shot["tags"][0]["payload"] == "PET-00417-D");
    CHECK(shot["tags"][0]["px_per_mm"].get<double>() == Approx(6).epsilon(1e-4));
    CHECK(shot["sha256"] == run("sha256sum < " + quoted(folder / "x.jpg")).output.substr(0, 64));
}

TEST_CASE("One of every other face is written", "[sample_maker]") {
    const ScratchFolder folder;
    for (const char* face : {"--marker pocket --px-per-mm 8", "--marker mat --px-per-mm 1", "--stage mock-up",
                             "--qr 'TIME 2026-03-20T08:58:15Z' --px-per-mm 8"}) {
        const auto made = samples(std::string("one ") + face + " --out " + quoted(folder / "y.jpg"));
        INFO(face << ": " << made.output);
        CHECK(made.status == 0);
    }
    CHECK(run("zbarimg -q --raw " + quoted(folder / "y.jpg") + " 2>/dev/null").output ==
          "TIME 2026-03-20T08:58:15Z\n");
}

TEST_CASE("Photos and a card are written", "[sample_maker]") {
    const ScratchFolder folder;
    CHECK(samples("photos --count 2 --size 800x600 --out " + quoted(folder / "p")).status == 0);
    CHECK(json::parse(bytes_of(folder / "p/truth.json"))["shots"].size() == 2);
    CHECK(samples("card --parts 1 --cameras 1 --size 640x480 --out " + quoted(folder / "c")).status == 0);
    CHECK(json::parse(bytes_of(folder / "c/truth.json"))["shots"].size() >= 4);
}

TEST_CASE("Wrong use ends with status 2 and one line, an unwritable place with 3", "[sample_maker]") {
    const ScratchFolder folder;
    const std::string out = " --out " + quoted(folder / "z");
    for (const std::string& wrong :
         {std::string("one --out x.jpg"), "one --tag PET-00417-E" + out,
          "one --tag PET-00417 --marker bench" + out, "one --marker table" + out, "one --stage washed" + out,
          "one --tag PET-00417 --px-per-mm 0" + out, "photos --px-per-mm 3:1" + out,
          "photos --size 1600" + out, "photos --book 7X" + out, "photos --background grass" + out,
          "card --parts 0" + out, "photos --count 0" + out, std::string("dance"), std::string("")}) {
        const auto result = samples(wrong);
        INFO(wrong << ": " << result.output);
        CHECK(result.status == 2);
        CHECK(std::count(result.output.begin(), result.output.end(), '\n') == 1);
    }
    CHECK(samples("one --tag 417 --out /proc/none/x.jpg").status == 3);
    CHECK(samples("--help").status == 0);
}
