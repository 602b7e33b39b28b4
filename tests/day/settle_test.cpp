// A person's decisions on groups, and what follows at once.
#include "day/settle.h"

#include "book/history.h"
#include "book/links.h"
#include "book/photos_without_part.h"
#include "book/sample_book.h"
#include "book/sightings.h"
#include "day/read_day.h"
#include "errors.h"

using namespace stripbook;
using namespace stripbook::test;
using book::GroupState;
using Catch::Contains;

namespace {

// One camera's morning; minutes after nine.
class Morning {
  public:
    Morning() : book(new_book(scratch / "petrel")), dump_(book::begin_dump(book, "/media/card", "Ana")) {}

    Morning& floor(double minutes) {
        add_photo(book, dump_, ++photos, minutes);
        book::PhotoFacts facts;
        facts.serial = "A1";
        book::save_photo_facts(book, {photos}, facts);
        return *this;
    }
    Morning& tagged(double minutes, int serial) {
        floor(minutes);
        book::Sighting seen;
        seen.text = tag(serial).text();
        seen.confirmed = true;
        seen.by_qr = true;
        seen.how = "QR code";
        book::save_sightings(book, {photos}, {seen});
        return *this;
    }
    /// A tag that was not read for sure, and what it may be.
    Morning& doubtful(double minutes, const std::vector<int>& serials) {
        floor(minutes);
        book::Sighting seen;
        seen.doubt = "two fiducials alone are not enough to be sure";
        for (const int serial : serials) {
            seen.suggestions.push_back(tag(serial).text());
        }
        book::save_sightings(book, {photos}, {seen});
        return *this;
    }
    Morning& linked() {
        day::link_all(book);
        return *this;
    }
    std::vector<day::Settled> settle(const std::vector<std::string>& words) {
        return day::settle(book, day::orders_from_words(words, pet(), book::highest_group(book)), "Ana");
    }
    std::string refusal(const std::vector<std::string>& words) {
        return message_of<WrongUse>([&] { settle(words); });
    }
    [[nodiscard]] std::string links() const {
        std::string words;
        for (const auto& link : book::all_links(book)) {
            words += (words.empty() ? "" : " ") + link.photo.text() + ":" +
                     std::to_string(link.tag.serial()) + (link.by_person ? "!" : "");
        }
        return words;
    }
    [[nodiscard]] std::string open() const {
        std::string words;
        for (const auto& group : book::open_groups(book)) {
            words += (words.empty() ? "" : " ") + std::to_string(group.number.value) + ":" +
                     book::photo_list(group.photos);
        }
        return words;
    }

    ScratchFolder scratch;
    book::Book book;
    int photos = 0;

  private:
    book::DumpId dump_;
};

}  // namespace

TEST_CASE("Yes takes the best suggestion for the whole group", "[day]") {
    Morning m;
    m.tagged(0, 417).doubtful(10, {424, 417}).floor(10.5).floor(11).linked();
    REQUIRE(m.open() == "1:p2-p4");
    const auto settled = m.settle({"1", "yes"});
    REQUIRE(settled.size() == 1);
    CHECK(settled[0].decision == tag(424).text());
    CHECK(settled[0].photos.size() == 3);
    CHECK_FALSE(settled[0].as_it_was);
    CHECK(m.links() == "p1:417 p2:424! p3:424! p4:424!");
    CHECK(m.open().empty());
    CHECK_THAT(day::ending_words(m.book, *book::find_group(m.book, {1})),
               Contains("group 1 was settled on 20") && Contains("by Ana: " + tag(424).text()));
}

TEST_CASE("The same decision again changes nothing, another one is refused", "[day]") {
    Morning m;
    m.tagged(0, 417).doubtful(10, {424, 417}).linked();
    m.settle({"1", "b"});
    CHECK(m.settle({"1", "b"})[0].as_it_was);
    CHECK(m.settle({"1", "417"})[0].as_it_was);
    CHECK_THAT(m.refusal({"1", "yes"}), Contains("was settled") && Contains("PET-00417-D"));
    CHECK_THAT(m.refusal({"1", "none"}), Contains("was settled"));
    CHECK(m.links() == "p1:417 p2:417!");
}

TEST_CASE("A wrong number refuses the whole command", "[day]") {
    Morning m;
    m.tagged(0, 417).doubtful(10, {424}).tagged(20, 417).floor(60).linked();
    REQUIRE(m.open() == "1:p2 2:p4");
    CHECK_THAT(m.refusal({"1", "yes", "2", "c"}), Contains("group 2"));
    CHECK_THAT(m.refusal({"1", "yes", "2", "PET-00999"}), Contains("no part PET-00999"));
    CHECK_THAT(m.refusal({"1", "yes", "2", "OAK-00417"}), Contains("OAK"));
    CHECK(m.links() == "p1:417 p3:417");
    CHECK(m.open() == "1:p2 2:p4");
    CHECK(book::history_of(m.book, "group 1").size() == 1);
}

TEST_CASE("A decision improves what follows it, and what was decided is never overruled", "[day]") {
    Morning m;
    m.tagged(0, 417).floor(8).floor(9.5).tagged(14, 424).floor(14.3).linked();
    REQUIRE(m.open() == "1:p2, p3");
    m.settle({"1", "apart"});
    REQUIRE(m.open() == "2:p2 3:p3");
    const auto settled = m.settle({"2", "424"});
    CHECK(settled[0].photos.size() == 1);
    CHECK(m.links() == "p1:417 p2:424! p3:424 p4:424 p5:424");
    CHECK(m.open().empty());
    // Group 3 came to it by itself: the same answer from the printed sheet is taken, another refused.
    CHECK(book::find_group(m.book, {3})->state == GroupState::gone);
    CHECK(m.settle({"3", "424"})[0].as_it_was);
    CHECK_THAT(m.refusal({"3", "417"}), Contains("group 3 waits no more") && Contains("p3 to PET-00424"));
    m.tagged(7.9, 431).linked();
    CHECK_THAT(m.links(), Contains("p2:424!"));
}

TEST_CASE("A group taken apart gets new numbers, cut where a person says", "[day]") {
    Morning m;
    m.floor(0).floor(0.5).floor(1).floor(1.5).linked();
    REQUIRE(m.open() == "1:p1-p4");
    CHECK_THAT(m.refusal({"1", "apart", "p1"}), Contains("but the first"));
    CHECK_THAT(m.refusal({"1", "apart", "p9"}), Contains("p1-p4"));
    const auto settled = m.settle({"1", "apart", "p3"});
    CHECK(m.open() == "2:p1, p2 3:p3, p4");
    CHECK(settled[0].pieces == std::vector<book::GroupNumber>{{2}, {3}});
    CHECK(m.settle({"1", "apart"})[0].as_it_was);
    CHECK_THAT(m.refusal({"1", "none"}), Contains("taken apart") && Contains("group 2, group 3"));
    m.settle({"2", "apart"});
    CHECK(m.open() == "3:p3, p4 4:p1 5:p2");
    CHECK_THAT(m.refusal({"4", "apart"}), Contains("one photo"));
}

TEST_CASE("Photos of no part are not asked about again until that is taken back", "[day]") {
    Morning m;
    m.floor(0).floor(0.5).tagged(10, 417).linked();
    REQUIRE(m.open() == "1:p1, p2");
    m.settle({"1", "none"});
    CHECK(m.open().empty());
    m.floor(10.5).linked();
    CHECK(m.open().empty());
    CHECK(m.links() == "p3:417 p4:417");
    CHECK(m.settle({"1", "back"})[0].decision == "back");
    CHECK(m.open() == "1:p1, p2");
    CHECK(book::photos_without_part(m.book).empty());
    CHECK_THAT(m.refusal({"1", "back"}), Contains("nothing to take back"));
    m.settle({"1", "417"});
    m.settle({"1", "back"});
    CHECK(m.links() == "p3:417 p4:417");
    CHECK(m.open() == "1:p1, p2");
}

TEST_CASE("A tag shown in a photo of no part makes no link and no run", "[day]") {
    Morning m;
    m.doubtful(0, {424}).linked();
    book::say_without_part(m.book, {1}, "Ana");
    m.tagged(10, 431).floor(10.5).linked();
    book::say_without_part(m.book, {2}, "Ana");
    m.linked();
    CHECK(m.links().empty());
    CHECK(m.open() == "2:p3");
    book::link_by_person(m.book, {2}, tag(431), "Ana");
    m.linked();
    CHECK(m.links() == "p2:431! p3:431");
}

TEST_CASE("A part that is suggested gets its record when a person says so", "[day]") {
    Morning m;
    m.doubtful(0, {424}).linked();
    CHECK_FALSE(book::find_part(m.book, tag(424)));
    m.settle({"1", "yes"});
    REQUIRE(book::find_part(m.book, tag(424)));
    CHECK(book::history_of(m.book, tag(424).text()).at(0).who == "Ana");
}

TEST_CASE("Yes is refused once another suggestion is better than the one on paper", "[day]") {
    Morning m;
    m.doubtful(0, {424, 417}).linked();
    book::Sighting seen;
    seen.doubt = "two fiducials alone are not enough to be sure";
    seen.suggestions = {tag(417).text(), tag(424).text()};
    book::save_sightings(m.book, {1}, {seen});
    m.linked();
    CHECK_THAT(m.refusal({"1", "yes"}), Contains(tag(424).text()) && Contains("settle 1 a or b"));
    CHECK(m.settle({"1", "a"})[0].decision == tag(424).text());
}

TEST_CASE("A tag that says no number of this book does not go with the question before it", "[day]") {
    Morning m;
    m.doubtful(0, {424}).floor(0.5).doubtful(1, {}).floor(1.5).linked();
    CHECK(m.open() == "1:p1, p2 2:p3, p4");
    m.settle({"1", "yes"});
    CHECK(m.links() == "p1:424! p2:424!");
}

TEST_CASE("Yes without a suggestion is refused", "[day]") {
    Morning m;
    m.floor(0).linked();
    CHECK_THAT(m.refusal({"1", "yes"}), Contains("no suggestion"));
}

TEST_CASE("Photos that left a group are not touched by its decision", "[day]") {
    Morning m;
    m.floor(0).floor(2.5).floor(3).linked();
    REQUIRE(m.open() == "1:p1-p3");
    m.tagged(2.4, 417).linked();  // a late card: p1 waits still, the others follow the new tag shot
    REQUIRE(m.open() == "1:p1");
    const auto settled = m.settle({"1", "none"});
    CHECK(settled[0].photos == std::vector<book::PhotoNumber>{{1}});
    CHECK(settled[0].left == std::vector<book::PhotoNumber>{{2}, {3}});
    CHECK(m.links() == "p2:417 p3:417 p4:417");
}

TEST_CASE("Photos of a late card never join the number of a printed group", "[day]") {
    Morning m;
    m.floor(0).floor(1).linked();
    REQUIRE(m.open() == "1:p1, p2");
    m.floor(0.5).floor(2).linked();
    CHECK(m.open() == "1:p1, p2 2:p3 3:p4");
}
