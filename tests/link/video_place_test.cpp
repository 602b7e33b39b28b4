#include "link/video_place.h"

#include <catch2/catch.hpp>

#include "link/assign.h"

using namespace stripbook;
using book::PhotoNumber;

namespace {

const number::BookCode pet = number::BookCode::from_typed("PET");

// One card's day, in the camera's time; the card's file times are an hour behind it (a time zone).
class Card {
  public:
    static constexpr double zone_s = 3600;

    Card& photo(double at_s, int camera = 1) { return add(book::FileKind::photo, at_s, camera, at_s); }
    Card& video(double at_s) {
        constexpr int camera_of_the_card = 9;
        return add(book::FileKind::video, at_s, camera_of_the_card, at_s - zone_s);
    }
    Card& with(int serial) {
        book::Sighting s;
        s.text = number::TagNumber(pet, serial).text();
        s.confirmed = true;
        s.by_qr = true;
        s.how = "QR code";
        shots.back().sightings.push_back(s);
        return *this;
    }
    Card& damaged() {
        shots.back().photo.read_state = book::ReadState::damaged;
        return *this;
    }
    Card& not_looked_at() {
        shots.back().photo.read_state = book::ReadState::not_yet;
        return *this;
    }
    Card& file_time_off_by(double seconds) {
        shots.back().photo.file_time_s += seconds;
        return *this;
    }
    // "p1:417 p2:417 p3?": what went where, and what needs a person.
    [[nodiscard]] std::string told() const {
        const auto a = link::assign(shots, pet, {});
        std::map<PhotoNumber, std::string> words;
        for (const auto& l : a.links) {
            words[l.photo] += ":" + std::to_string(l.tag.serial());
        }
        for (const auto& u : a.unsettled) {
            words[u.photo] += "?";
        }
        std::string text;
        for (const auto& [number, word] : words) {
            text += (text.empty() ? "" : " ") + number.text() + word;
        }
        return text;
    }
    [[nodiscard]] std::string why(std::int64_t photo) const {
        const auto a = link::assign(shots, pet, {});
        for (const auto& l : a.links) {
            if (l.photo.value == photo) {
                return l.why;
            }
        }
        for (const auto& u : a.unsettled) {
            if (u.photo.value == photo) {
                return u.why;
            }
        }
        return "";
    }

    std::vector<link::PhotoSightings> shots;

  private:
    Card& add(book::FileKind kind, double at_s, int camera, double camera_time_s) {
        link::PhotoSightings p;
        p.photo.number = PhotoNumber{static_cast<std::int64_t>(shots.size()) + 1};
        p.photo.original.kind = kind;
        p.photo.dump = book::DumpId{1};
        p.photo.camera = book::CameraId{camera};
        p.photo.camera_time.seconds = camera_time_s;
        p.photo.corrected_seconds = camera_time_s;
        p.photo.file_time_s = at_s - zone_s;
        p.photo.read_state = book::ReadState::read;
        shots.push_back(p);
        return *this;
    }
};

}  // namespace

TEST_CASE("A video follows the tag shot before it, whatever zone the card's file times are in",
          "[link][video]") {
    const Card card = Card().photo(0).with(417).video(60).photo(200).photo(300).with(424).video(330);
    CHECK(card.told() == "p1:417 p2:417 p3:417 p4:424 p5:424");
    CHECK(card.why(2) ==
          "it follows the tag shot p1, 60 s after the photo before it by its file time (a video)");
}

TEST_CASE("A video with a tag starts a run of its own", "[link][video]") {
    CHECK(Card().photo(0).with(417).video(60).with(424).photo(80).video(100).told() ==
          "p1:417 p2:424 p3:424 p4:424");
    // Only videos on the card: they are a run too.
    CHECK(Card().video(0).with(417).video(60).told() == "p1:417 p2:417");
}

TEST_CASE("A video long after the tag shot, or long before any, needs a person", "[link][video]") {
    CHECK(Card().photo(0).with(417).video(660).told() == "p1:417 p2?");
    CHECK(Card().video(0).photo(400).with(417).told() == "p1? p2:417");
}

TEST_CASE("A video on a card of two cameras needs a person unless its tag is read", "[link][video]") {
    const Card card = Card().photo(0).with(417).photo(5, 2).video(60).video(70).with(424);
    CHECK(card.told() == "p1:417 p2? p3? p4:424");
    CHECK(card.why(3) ==
          "no tag in it, and its card holds photos of 2 cameras, so whose video it is is not known");
    // A picture that does not decode says nothing of its camera.
    CHECK(Card().photo(0).with(417).photo(5, 2).damaged().video(60).told() == "p1:417 p2? p3:417");
}

TEST_CASE("File times that do not go with the camera's clock place no video", "[link][video]") {
    // As after copying a card without its times: no time zone is 17 minutes off.
    const Card off = Card().photo(0).with(417).file_time_off_by(1020).video(60);
    CHECK(off.told() == "p1:417 p2?");
    CHECK_THAT(off.why(2), Catch::Contains("do not go with the camera's clock"));
    // The photos before and after the video must say the same: here the clock was set between them.
    CHECK(Card().photo(0).with(417).video(60).photo(90).file_time_off_by(900).told() == "p1:417 p2? p3:417");
    // Two seconds are how finely cards write times (FAT).
    CHECK(Card().photo(0).with(417).file_time_off_by(2).video(60).photo(90).told() == "p1:417 p2:417 p3:417");
}

TEST_CASE("A video that does not decode may be a tag shot, one that nobody looked at is said to be so",
          "[link][video]") {
    CHECK(Card().photo(0).with(417).video(20).damaged().photo(40).told() == "p1:417 p2? p3?");
    const Card card = Card().photo(0).with(417).video(20).not_looked_at().photo(40);
    CHECK(card.told() == "p1:417 p2? p3:417");
    CHECK_THAT(card.why(2), Catch::Contains("stripbook read --again"));
}
