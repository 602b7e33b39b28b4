// Photos in every format, and other makers' tags, from the card to the part.
#include <catch2/catch.hpp>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using nlohmann::json;

namespace {

void tool(const std::vector<std::string>& words) {
    const Ran ran = run(words);
    INFO(words.front() << ": " << ran.err);
    REQUIRE(ran.status == 0);
}

struct Workshop {
    Workshop() : book((scratch / "book").string()), card(scratch / "card") {
        REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
    }
    [[nodiscard]] std::string on_card(const std::string& name) const {
        return (card.path() / "DCIM/100AAAAA" / name).string();
    }
    [[nodiscard]] json files() const {
        json all;
        const json dumped = stripbook_json({"dump", card.text(), "--book", book});
        for (const auto& file : dumped.at("cards")[0].at("files")) {
            all[std::string(file.at("name")).substr(14)] = file;
        }
        return all;
    }
    ScratchFolder scratch;
    std::string book;
    MadeCard card;
};

}  // namespace

TEST_CASE("A tag is read in every format, and the photo linked", "[line]") {
    const Workshop w;
    w.card.tag_shot("DCIM/100AAAAA/FIRST001.JPG", "PET-00417", "2026:03:20 09:00:00");
    const std::string photo = w.on_card("FIRST001.JPG");
    tool({"heif-enc", "-q", "90", photo, "-o", w.on_card("HEIC0001.HIC")});
    tool({"heif-enc", "-A", "-q", "90", photo, "-o", w.on_card("AVIF0001.AVIF")});
    tool({"convert-im6.q16", photo, "-depth", "16", "tiff:" + w.on_card("DEEP0001.TIF")});
    tool({"convert-im6.q16", photo, "png:" + w.on_card("PNGF0001.JPG")});
    tool({"convert-im6.q16", photo, "-interlace", "JPEG", "jpeg:" + w.on_card("PROG0001.PNG")});
    tool({"convert-im6.q16", photo, "-colorspace", "CMYK", "jpeg:" + w.on_card("INKS0001.JPG")});
    tool({"convert-im6.q16", photo, "-orient", "RightTop", "jpeg:" + w.on_card("TURN0001.JPG")});
    const json files = w.files();
    REQUIRE(files.size() == 8);
    for (const auto& [name, file] : files.items()) {
        INFO(name << " " << file.dump());
        CHECK(file.at("read") == "read");
        CHECK(file.at("width_px") == 800);
        CHECK(file.at("height_px") == 600);
        REQUIRE(file.at("links").size() == 1);
        CHECK(file.at("links")[0].at("tag").get<std::string>().substr(0, 9) == "PET-00417");
    }
    CHECK(files.at("TURN0001.JPG").at("orientation") == 6);
    CHECK(files.at("HEIC0001.HIC").at("camera_time") == "2026-03-20T09:00:00");
}

TEST_CASE("Another maker's tag in the parts list is that part's tag", "[line]") {
    const Workshop w;
    tool({"zint", "-b", "DATAMATRIX", "--scale=4", "--quietzones", "-o", (w.scratch / "dm.png").string(),
          "-d", "KBO 4711/2"});
    tool({"zint", "-b", "DATAMATRIX", "--scale=4", "--quietzones", "-o", (w.scratch / "dm2.png").string(),
          "-d", "somebody's"});
    tool({"zint", "-b", "CODE128", "--scale=2", "--quietzones", "-o", (w.scratch / "bars.png").string(), "-d",
          "ACME-0042"});
    tool({"zint", "-b", "CODE128", "--scale=2", "--quietzones", "-o", (w.scratch / "bars2.png").string(),
          "-d", "ACME-0043"});
    tool({"zint", "-b", "QRCODE", "--scale=4", "--quietzones", "-o", (w.scratch / "qr.png").string(), "-d",
          "https://parts.example/77"});
    w.card.file("DCIM/100AAAAA/README.TXT", "x");
    for (const std::string name : {"dm", "dm2", "bars", "bars2", "qr"}) {
        tool({"convert-im6.q16", "-size", "1200x900", "xc:gray60", (w.scratch / (name + ".png")).string(),
              "-geometry", "+300+250", "-composite", "-quality", "90", w.on_card(name + ".JPG")});
    }
    w.card.file(
        "../parts.csv",
        "tag,name,other tag\n1,Pump,KBO 4711/2\n2,Valve,ACME-0042\n3,Cock,https://parts.example/77\n");
    REQUIRE(run_stripbook({"parts", "import", (w.scratch / "parts.csv").string(), "--book", w.book}).status ==
            0);
    const json files = w.files();
    const auto tag_of = [&](const std::string& name) {
        const json& links = files.at(name).at("links");
        return links.empty() ? std::string() : std::string(links[0].at("tag")).substr(0, 9);
    };
    CHECK(tag_of("dm.JPG") == "PET-00001");
    CHECK(files.at("dm.JPG").at("links")[0].at("why") ==
          "its tag is in the picture: Data Matrix of another maker's tag, KBO 4711/2");
    CHECK(tag_of("bars.JPG") == "PET-00002");
    CHECK(tag_of("qr.JPG") == "PET-00003");
    // A Data Matrix nobody knows is listed; a Code 128 nobody knows is most likely a misreading.
    REQUIRE(files.at("dm2.JPG").at("sightings").size() == 1);
    CHECK(files.at("dm2.JPG").at("sightings")[0].at("kind") == "other code");
    CHECK(files.at("dm2.JPG").at("sightings")[0].at("text") == "somebody's");
    CHECK(files.at("bars2.JPG").at("sightings").empty());
    // At day's end a person is told of the one nobody wears, and of no other.
    const json again = stripbook_json({"dump", w.card.text(), "--book", w.book});
    REQUIRE(again.at("strange_codes").size() == 1);
    CHECK(again.at("strange_codes")[0].at("text") == "somebody's");
    CHECK_THAT(run_stripbook({"dump", w.card.text(), "--book", w.book}).out,
               Catch::Contains("Other codes   \"somebody's\" in p") && Catch::Contains("other tag"));
}
