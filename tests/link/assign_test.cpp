#include "link/assign.h"

#include <algorithm>
#include <random>

#include <catch2/catch.hpp>

using namespace stripbook;
using book::PhotoNumber;
using link::assign;
using link::Assignment;
using link::PhotoSightings;
using link::Rules;
using number::BookCode;
using number::TagNumber;

namespace {

const BookCode pet = BookCode::from_typed("PET");
const BookCode oak = BookCode::from_typed("OAK");

TagNumber part(int serial) {
    return {pet, serial};
}

constexpr int side_px = 1000;

// One camera's day is written down shot by shot.
class Day {
  public:
    Day& shot(double at_s, int camera = 1) {
        PhotoSightings p;
        p.photo.number = PhotoNumber{static_cast<std::int64_t>(photos.size()) + 1};
        p.photo.camera = book::CameraId{camera};
        p.photo.camera_time.seconds = at_s;
        p.photo.corrected_seconds = at_s;
        p.photo.original.kind = book::FileKind::photo;
        p.photo.read_state = book::ReadState::read;
        p.photo.width_px = p.photo.height_px = side_px;
        photos.push_back(p);
        return *this;
    }
    Day& with(const TagNumber& tag, bool by_qr = true) {
        book::Sighting s;
        s.text = tag.text();
        s.confirmed = true;
        s.by_qr = by_qr;
        s.how = by_qr ? "QR code" : "3 fiducials";
        photos.back().sightings.push_back(s);
        return *this;
    }
    Day& with_doubtful_tag(std::vector<std::string> suggestions = {}) {
        book::Sighting s;
        s.doubt = "two fiducials alone are not enough to be sure";
        s.suggestions = std::move(suggestions);
        photos.back().sightings.push_back(s);
        return *this;
    }
    // The tag just seen: its side as a share of the picture's, in the middle or at the edge.
    Day& placed(double share, bool at_edge) {
        const double middle = side_px / 2.0;
        const double half = middle * share;
        const double x = at_edge ? half + 1 : middle;
        photos.back().sightings.back().corners_px = {{{x - half, middle - half},
                                                      {x + half, middle - half},
                                                      {x + half, middle + half},
                                                      {x - half, middle + half}}};
        return *this;
    }
    Assignment assigned(Rules rules = {}) const { return assign(photos, pet, rules); }

    std::vector<PhotoSightings> photos;
};

// "p1:417 p2:417": which photo went to which serial.
std::string told(const Assignment& a) {
    std::string text;
    for (const auto& l : a.links) {
        text += (text.empty() ? "" : " ") + l.photo.text() + ":" + std::to_string(l.tag.serial());
    }
    return text;
}

std::string asked(const Assignment& a) {
    std::string text;
    for (const auto& u : a.unsettled) {
        text += (text.empty() ? "" : " ") + u.photo.text();
    }
    return text;
}

}  // namespace

TEST_CASE("A tag shot and the details after it belong to its part", "[link]") {
    const auto a =
        Day().shot(0).with(part(417)).shot(20).shot(45).shot(400).with(part(424)).shot(430).assigned();
    CHECK(told(a) == "p1:417 p2:417 p3:417 p4:424 p5:424");
    CHECK(a.unsettled.empty());
    REQUIRE(a.links.size() == 5);
    CHECK(a.links[0].why == "its tag is in the picture: QR code");
    CHECK(a.links[2].why == "it follows the tag shot p1, 25 s after the photo before it");
    CHECK(a.new_tags == std::vector<TagNumber>{part(417), part(424)});
}

TEST_CASE("A photo long after the tag shot needs a person where nothing else speaks for its part", "[link]") {
    const auto a = Day().shot(0).with(part(417)).shot(30).shot(60).shot(660).shot(670).assigned();
    CHECK(told(a) == "p1:417 p2:417 p3:417");
    CHECK(asked(a) == "p4 p5");
    REQUIRE(a.unsettled.size() == 2);
    CHECK(a.unsettled[0].why == "no tag in it, and it was taken 10 min 00 s after the photo before it");
    REQUIRE(a.unsettled[0].suggestions == std::vector<TagNumber>{part(417)});
    REQUIRE(a.unsettled[0].chances.size() == 1);
    CHECK(a.unsettled[0].chances[0] < 0.9);
}

TEST_CASE("Runs do not cross cameras", "[link]") {
    const auto a = Day().shot(0, 1).with(part(417)).shot(10, 2).shot(20, 1).assigned();
    CHECK(told(a) == "p1:417 p3:417");
    CHECK(asked(a) == "p2");
    CHECK_THAT(a.unsettled[0].why, Catch::Contains("or of a part whose tag was not shot"));
}

TEST_CASE("Several tags link to each part: an untagged photo after them needs a person", "[link]") {
    const auto a = Day().shot(0).with(part(417)).with(part(424)).shot(10).assigned();
    CHECK(told(a) == "p1:417 p1:424");
    CHECK(asked(a) == "p2");
    CHECK(a.unsettled[0].suggestions.size() == 2);
}

TEST_CASE("A tag that is not confirmed ends the run: it and the photos after it need a person", "[link]") {
    const auto a = Day()
                       .shot(0)
                       .with(part(417))
                       .shot(10)
                       .with_doubtful_tag({part(424).text()})
                       .shot(20)
                       .shot(30)
                       .with(part(431))
                       .shot(40)
                       .assigned();
    CHECK(told(a) == "p1:417 p4:431 p5:431");
    CHECK(asked(a) == "p2 p3");
    REQUIRE(a.unsettled[0].suggestions.size() > 1);
    CHECK(a.unsettled[0].suggestions.front() == part(424));  // what the picture itself names comes first
}

TEST_CASE("A tag of another book makes no part and no link, and ends the run", "[link]") {
    const auto a = Day().shot(0).with(part(417)).shot(10).with(TagNumber(oak, 29565)).shot(20).assigned();
    CHECK(told(a) == "p1:417");
    CHECK(asked(a) == "p2 p3");
    CHECK(a.other_book_tags == 1);
    CHECK(a.new_tags == std::vector<TagNumber>{part(417)});
    CHECK(a.unsettled[0].why == "it shows a tag that is of another book: OAK-29565-Q");
}

TEST_CASE("A photo with a sure tag and a doubtful one is linked and asked about, and nothing follows it",
          "[link]") {
    const auto a = Day().shot(0).with(part(417)).with_doubtful_tag().shot(10).assigned();
    CHECK(told(a) == "p1:417");
    CHECK(asked(a) == "p1 p2");
}

TEST_CASE("More than three never-seen numbers in one photo are asked about: known ones are not", "[link]") {
    Day day;
    day.shot(0).with(part(1)).with(part(2)).with(part(3)).with(part(4)).shot(10);
    const auto fresh = day.assigned();
    CHECK(fresh.links.empty());
    CHECK(fresh.new_tags.empty());
    CHECK(asked(fresh) == "p1 p2");
    Rules rules;
    rules.known = {part(1)};
    CHECK(told(day.assigned(rules)) == "p1:1 p1:2 p1:3 p1:4");
}

TEST_CASE("Fiducials alone must name a number that the book knows, where the book has a list", "[link]") {
    Day day;
    day.shot(0).with(part(417), false).shot(10);
    CHECK(told(day.assigned()) == "p1:417 p2:417");  // no list yet
    Rules rules;
    rules.known = {part(424)};
    rules.known_to_fiducials = {part(424)};
    const auto a = day.assigned(rules);
    CHECK(a.links.empty());
    CHECK(asked(a) == "p1 p2");
    CHECK(a.unsettled[0].suggestions == std::vector<TagNumber>{part(417)});
}

TEST_CASE("A person's link starts a run: a person's refusal is never overruled", "[link]") {
    Day day;
    day.shot(0).with_doubtful_tag().shot(10).shot(20);
    day.photos[0].linked_by_person = {part(417)};
    CHECK(told(day.assigned()) == "p2:417 p3:417");  // the person's own link is not the program's to make

    Day refused;
    refused.shot(0).with(part(417)).shot(10).shot(20);
    refused.photos[1].refused_by_person = {part(417)};
    const auto a = refused.assigned();
    CHECK(told(a) == "p1:417");
    CHECK(asked(a) == "p2 p3");

    Day tag_refused;
    tag_refused.shot(0).with(part(417)).shot(10);
    tag_refused.photos[0].refused_by_person = {part(417)};
    CHECK(told(tag_refused.assigned()).empty());
    CHECK(asked(tag_refused.assigned()) == "p2");
}

TEST_CASE("A photo that does not decode may be a tag shot, so it ends the run", "[link]") {
    Day day;
    day.shot(0).with(part(417)).shot(10).shot(20);
    day.photos[1].photo.read_state = book::ReadState::damaged;
    CHECK(told(day.assigned()) == "p1:417");
    CHECK(asked(day.assigned()) == "p2 p3");
}

TEST_CASE("A neighbour's tag that cannot be read, or is surely a neighbour's, costs nobody a question",
          "[link]") {
    Day day;
    for (int run = 0; run < 8; ++run) {
        const double at = 400.0 * run;
        day.shot(at).with(part(417 + run)).placed(0.14, false).shot(at + 12).shot(at + 25).shot(at + 40);
    }
    const int seen = 3 * 4 + 2;  // the third photo of the fourth run
    SECTION("a small tag at the edge, of the part before") {
        day.photos[seen].sightings = Day().shot(0).with(part(419)).placed(0.03, true).photos[0].sightings;
    }
    SECTION("the same, not read for sure") {
        day.photos[seen].sightings =
            Day().shot(0).with_doubtful_tag({part(419).text()}).placed(0.03, true).photos[0].sightings;
    }
    const auto a = day.assigned();
    CHECK(asked(a).empty());
    CHECK_THAT(told(a), Catch::Contains("p15:420 "));
}

namespace {

// What part 500 and up look like to camera 1 to 3: far from one another, a little different to each camera.
std::string look_of(int serial, int camera, int photo) {
    std::string bytes(1, '\1');
    std::mt19937 of_part(static_cast<unsigned>(serial));
    std::mt19937 of_photo(static_cast<unsigned>(1000 * serial + 100 * camera + photo));
    for (int i = 0; i < 48; ++i) {
        const int level =
            60 + static_cast<int>(of_part() % 120) + 3 * camera + static_cast<int>(of_photo() % 11);
        bytes += static_cast<char>(static_cast<unsigned char>(level));
    }
    return bytes;
}

struct Together {
    Day day;
    double at_s = 0;
    int serial = 500;
    void run(int camera, int of, bool tagged, double from_s) {
        for (int i = 0; i < 4; ++i) {
            day.shot(from_s + 15 * i, camera);
            if (tagged && i == 0) {
                day.with(part(of));
            }
            day.photos.back().signature = look_of(of, camera, i);
        }
    }
    // Cameras 1 and 2 at two parts, camera 3 at one of them.
    void visit(int camera_joined, bool tag_shown) {
        run(1, serial, true, at_s);
        run(2, serial + 1, true, at_s + 5);
        run(3, camera_joined == 1 ? serial : serial + 1, tag_shown, at_s + 8);
        serial += 2;
        at_s += 500;
    }
};

}  // namespace

TEST_CASE("Of two parts that other cameras are at, looks tell which one a run without a tag is of",
          "[link]") {
    const int joined = GENERATE(1, 2);
    const bool looks = GENERATE(true, false);
    Together shop;
    for (int visit = 0; visit < 6; ++visit) {
        shop.visit(1 + visit % 2, true);
    }
    const std::size_t first = shop.day.photos.size() + 8;
    const int right = shop.serial + joined - 1;
    shop.visit(joined, false);
    shop.visit(1, true);
    if (!looks) {
        for (auto& photo : shop.day.photos) {
            photo.signature.clear();
        }
    }
    const auto a = shop.day.assigned();
    for (std::size_t i = first; i < first + 4; ++i) {
        const std::string name = shop.day.photos[i].photo.number.text();
        INFO(name << " " << looks);
        CHECK_THAT(looks ? told(a) + " " : asked(a) + " ",
                   Catch::Contains(looks ? name + ":" + std::to_string(right) + " " : name + " "));
    }
}

TEST_CASE("Photos beyond a pause that look like the part before it need a person, and the pause is named",
          "[link]") {
    Together shop;
    for (int run = 0; run < 12; ++run) {
        shop.run(1, 500 + run, true, 400.0 * run);
    }
    shop.run(1, 511, false, 400.0 * 12 + 1100);  // the tea break comes in the middle of a part
    const auto a = shop.day.assigned();
    CHECK(asked(a) == "p49 p50 p51 p52");
    CHECK(a.unsettled[1].suggestions == std::vector<TagNumber>{part(511)});
    CHECK(a.unsettled[1].why == "no tag in it, and a pause of 24 min lies between it and the tag shot p45");
}

TEST_CASE("The order in which photos reach the book does not matter", "[link]") {
    Together shop;
    for (int visit = 0; visit < 5; ++visit) {
        shop.visit(1 + visit % 2, visit != 3);
    }
    shop.day.shot(shop.at_s, 2)
        .shot(shop.at_s + 5, 2)
        .with_doubtful_tag({part(501).text()})
        .shot(shop.at_s + 900, 2);
    const Assignment in_order = shop.day.assigned();
    CHECK(in_order.links.size() > 50);
    std::mt19937 dice(11);
    for (int turn = 0; turn < 20; ++turn) {
        auto mixed = shop.day;
        std::shuffle(mixed.photos.begin(), mixed.photos.end(), dice);
        const Assignment again = mixed.assigned();
        CHECK(told(again) == told(in_order));
        CHECK(asked(again) == asked(in_order));
    }
}
