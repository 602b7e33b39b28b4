#include "link/groups.h"

#include <catch2/catch.hpp>

using namespace stripbook;
using book::PhotoNumber;
using book::Unsettled;
using link::GroupRules;
using number::TagNumber;

namespace {

TagNumber part(int serial) {
    return {number::BookCode::from_typed("PET"), serial};
}

// One day is written down shot by shot.
class Day {
  public:
    Day& linked(double at_s, int camera = 1) {
        book::Photo photo;
        photo.number = {static_cast<std::int64_t>(photos.size()) + 1};
        photo.camera = {camera};
        photo.camera_time.seconds = at_s;
        photo.original.kind = book::FileKind::photo;
        photo.read_state = book::ReadState::read;
        photos.push_back(photo);
        return *this;
    }
    Day& waiting(double at_s, std::vector<TagNumber> suggestions = {}, std::vector<double> chances = {},
                 int camera = 1) {
        linked(at_s, camera);
        unsettled.push_back(
            {photos.back().number, "no tag in it", std::move(suggestions), std::move(chances)});
        return *this;
    }
    Day& damaged(double at_s) {
        waiting(at_s);
        photos.back().read_state = book::ReadState::damaged;
        return *this;
    }
    [[nodiscard]] std::vector<book::FoundGroup> groups(const GroupRules& rules = {}) const {
        return link::groups_of(photos, unsettled, rules);
    }
    // "new:p1-p3 4:p5"
    [[nodiscard]] std::string told(const GroupRules& rules = {}) const {
        std::string words;
        for (const auto& group : groups(rules)) {
            words += (words.empty() ? "" : " ") +
                     (group.number ? std::to_string(group.number->value) : "new") + ":" +
                     book::photo_list(group.photos);
        }
        return words;
    }

    std::vector<book::Photo> photos;
    std::vector<Unsettled> unsettled;
};

}  // namespace

TEST_CASE("Consecutive photos of one camera that wait are one group", "[link]") {
    CHECK(Day().waiting(0).waiting(60).waiting(200).told() == "new:p1-p3");
    CHECK(Day().told().empty());
}

TEST_CASE("A linked photo, a long pause or another camera ends a group", "[link]") {
    CHECK(Day().waiting(0).linked(10).waiting(20).told() == "new:p1 new:p3");
    CHECK(Day().waiting(0).waiting(180).waiting(361).told() == "new:p1, p2 new:p3");
    CHECK(Day().waiting(0).waiting(5, {}, {}, 2).waiting(10).told() == "new:p1, p3 new:p2");
}

TEST_CASE("A clock that was put back in between ends a group", "[link]") {
    // The file counter goes on while the time falls by eleven years: the last photo was taken last.
    Day day;
    for (int i = 0; i < 20; ++i) {
        day.waiting(1.7e9 + 20.0 * i + (i < 18 ? 0 : -3.5e8));
        auto& photo = day.photos.back();
        photo.dcf_directory = 100;
        photo.dcf_counter = 1001 + i;
    }
    CHECK(day.told() == "new:p1-p18 new:p19, p20");
}

TEST_CASE("A photo that speaks for another part begins a group, one that says nothing does not", "[link]") {
    CHECK(Day().waiting(0, {part(1)}).waiting(5).waiting(10, {part(1)}).waiting(15, {part(2)}).told() ==
          "new:p1-p3 new:p4");
    CHECK(Day().waiting(0).waiting(5, {part(1)}).told() == "new:p1 new:p2");
    CHECK(Day().waiting(0, {part(1), part(2)}).waiting(5, {part(2), part(1)}).told() == "new:p1 new:p2");
}

TEST_CASE("What does not decode stands alone", "[link]") {
    CHECK(Day().waiting(0).damaged(5).waiting(10).told() == "new:p1 new:p2 new:p3");
}

TEST_CASE("A photo goes back to the group that held it, and new ones never join that", "[link]") {
    GroupRules rules;
    rules.held = {{{1}, {4}}, {{2}, {4}}, {{9}, {7}}};
    CHECK(Day().waiting(0).waiting(5).waiting(10).told(rules) == "4:p1, p2 new:p3");
    CHECK(Day().waiting(0).linked(5).waiting(10).told(rules) == "4:p1 new:p3");
    // Also when they are no longer consecutive or speak for different parts now.
    CHECK(Day().waiting(0, {part(1)}).waiting(900, {part(2)}, {}, 2).told(rules) == "4:p1, p2");
}

TEST_CASE("A person's cut keeps photos apart", "[link]") {
    GroupRules rules;
    rules.cut_before = {{2}, {3}};
    CHECK(Day().waiting(0).waiting(5).waiting(10).waiting(15).told(rules) == "new:p1 new:p2 new:p3, p4");
}

TEST_CASE("A tag that says no number of this book begins a group, whatever is suggested", "[link]") {
    GroupRules rules;
    rules.strange_tag = {{2}, {4}};
    CHECK(Day()
              .waiting(0, {part(1)})
              .waiting(5)
              .waiting(10)
              .waiting(15, {part(1)})
              .waiting(20, {part(1)})
              .told(rules) == "new:p1 new:p2, p3 new:p4, p5");
}

TEST_CASE("Suggestions of a group are ordered by their mean chance, three at most", "[link]") {
    const auto groups = Day()
                            .waiting(0, {part(1), part(2)}, {0.5, 0.4})
                            .waiting(5)
                            .waiting(10, {part(1), part(3), part(2), part(4)}, {0.3, 0.29, 0.28, 0.01})
                            .groups();
    REQUIRE(groups.size() == 1);
    REQUIRE(groups[0].suggestions.size() == 3);
    CHECK(groups[0].suggestions[0].tag == part(1));
    CHECK(*groups[0].suggestions[0].chance == Approx(0.4));
    CHECK(groups[0].suggestions[1].tag == part(2));
    CHECK(*groups[0].suggestions[1].chance == Approx(0.34));
    CHECK(groups[0].suggestions[2].tag == part(3));
    CHECK(*groups[0].suggestions[2].chance == Approx(0.145));
}

TEST_CASE("Without chances suggestions keep their order and have none", "[link]") {
    const auto groups = Day().waiting(0, {part(5), part(2)}).groups();
    REQUIRE(groups[0].suggestions.size() == 2);
    CHECK(groups[0].suggestions[0].tag == part(5));
    CHECK_FALSE(groups[0].suggestions[0].chance);
}

TEST_CASE("A hundred thousand photos are grouped in a moment", "[link]") {
    Day day;
    for (int i = 0; i < 100000; ++i) {
        i % 5 == 0 ? day.linked(10.0 * i) : day.waiting(10.0 * i, {part(i / 5 + 1)}, {0.6});
    }
    const auto groups = day.groups();
    CHECK(groups.size() == 20000);
    CHECK(groups[7].photos.size() == 4);
}
