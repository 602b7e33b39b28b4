#include "book/stages.h"

#include "book/links.h"
#include "book/sightings.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::PartPhoto;
using book::StageSigns;

namespace {

constexpr double day_s = 86400;
constexpr double first_of_april_s = 1775001600;  // date -u -d '2026-04-01' +%s

PartPhoto taken_on(int number, double day_of_april, bool on_bench = false) {
    PartPhoto p{{}, {{number}, tag(417), "its tag is in the picture", 0.99, false}, on_bench, "", false};
    p.photo.number = {number};
    p.photo.camera = {1};
    p.photo.corrected_seconds = first_of_april_s + (day_of_april - 1) * day_s;
    return p;
}

// "as-removed, -, cleaned": a stroke where the stage is not set.
std::string stages_in_words(std::vector<PartPhoto> photos, std::vector<StageSigns> signs = {},
                            const std::vector<book::PartStage>& said = {}) {
    signs.resize(photos.size());
    book::set_stages(photos, signs, said);
    std::string words;
    for (const auto& p : photos) {
        words += (words.empty() ? "" : ", ") + (p.stage.empty() ? "-" : p.stage);
    }
    return words;
}

PartPhoto said(PartPhoto photo, const std::string& stage) {
    photo.photo.stage_by_person = stage;
    return photo;
}

}  // namespace

TEST_CASE("What was taken before the first bench shot shows the part as removed", "[book]") {
    CHECK(stages_in_words({taken_on(1, 1), taken_on(2, 2), taken_on(3, 3, true), taken_on(4, 4)}) ==
          "as-removed, as-removed, -, -");
    CHECK(stages_in_words({taken_on(1, 1)}) == "as-removed");
}

TEST_CASE("Nothing counts as removed after another stage is known", "[book]") {
    CHECK(stages_in_words({taken_on(1, 1), said(taken_on(2, 2), "cleaned"), taken_on(3, 3),
                           taken_on(4, 4, true)}) == "as-removed, cleaned, -, -");
    // A person's word that a bench shot shows it as removed covers what came before it.
    CHECK(stages_in_words({taken_on(1, 1), taken_on(2, 2, true), said(taken_on(3, 3, true), "as-removed"),
                           taken_on(4, 4)}) == "as-removed, as-removed, as-removed, -");
    // But not when another stage is known before it.
    CHECK(stages_in_words({taken_on(1, 1, true), said(taken_on(2, 2), "cleaned"), taken_on(3, 3),
                           said(taken_on(4, 4), "as-removed")}) == "-, cleaned, -, as-removed");
}

TEST_CASE("A stage card holds for its photo and those that follow it at once", "[book]") {
    const std::vector<PartPhoto> photos{taken_on(1, 1, true), taken_on(2, 2), taken_on(3, 2), taken_on(4, 2),
                                        taken_on(5, 2)};
    const std::vector<StageSigns> signs{{{}, false, false},
                                        {{"cleaned"}, false, false},
                                        {{}, true, true},
                                        {{"painted"}, true, true},
                                        {{}, true, true}};
    CHECK(stages_in_words(photos, signs) == "-, cleaned, cleaned, painted, painted");
    auto interrupted = signs;
    interrupted[2].follows = false;
    CHECK(stages_in_words(photos, interrupted) == "-, cleaned, -, painted, painted");
    auto shown = photos;
    book::set_stages(shown, signs, {});
    CHECK(shown[1].stage_why == "a stage card is in the picture");
    CHECK(shown[2].stage_why == "it follows p2, which shows a stage card");
    CHECK_FALSE(shown[1].stage_by_person);
}

TEST_CASE("What was taken in the minutes before a card is not as-removed for sure", "[book]") {
    const std::vector<PartPhoto> photos{taken_on(1, 1), taken_on(2, 2), taken_on(3, 2), taken_on(4, 2)};
    CHECK(
        stages_in_words(
            photos, {{{}, false, false}, {{}, false, false}, {{}, true, true}, {{"cleaned"}, true, true}}) ==
        "as-removed, -, -, cleaned");
}

TEST_CASE("Another camera's photo does not follow a card", "[book]") {
    std::vector<PartPhoto> photos{taken_on(1, 1, true), taken_on(2, 2), taken_on(3, 2), taken_on(4, 2)};
    photos[2].photo.camera = {2};
    CHECK(stages_in_words(
              photos,
              {{{}, false, false}, {{"cleaned"}, false, false}, {{}, false, false}, {{}, true, true}}) ==
          "-, cleaned, -, cleaned");
}

TEST_CASE("Two different stage cards in one picture need a person", "[book]") {
    std::vector<PartPhoto> photos{taken_on(1, 1), taken_on(2, 1)};
    const std::vector<StageSigns> signs{{{"cleaned", "painted"}, false, false}, {{}, true, true}};
    CHECK(stages_in_words(photos, signs) == "-, as-removed");
    book::set_stages(photos, signs, {});
    CHECK(photos[0].stage_why == "different stage cards are in the picture");
    CHECK(stages_in_words({taken_on(1, 1)}, {{{"cleaned", "cleaned"}, false, false}}) == "cleaned");
}

TEST_CASE("A person's word on a photo beats the card, and the card a word on the part", "[book]") {
    const std::vector<book::PartStage> part{{"2026-04-02", "cleaned", "Ana"},
                                            {"2026-04-20", "painted", "Ben"}};
    const std::vector<PartPhoto> photos{said(taken_on(1, 2.5), "inspected"), taken_on(2, 3), taken_on(3, 4)};
    const std::vector<StageSigns> signs{{{"blasted"}, false, false}, {{"blasted"}, false, false}, {}};
    CHECK(stages_in_words(photos, signs, part) == "inspected, blasted, cleaned");
}

TEST_CASE("A word on the part counts from its day on, until the next", "[book]") {
    const std::vector<book::PartStage> part{{"2026-04-02", "cleaned", "Ana"},
                                            {"2026-04-20", "painted", "Ben"}};
    std::vector<PartPhoto> photos{taken_on(1, 1.99), taken_on(2, 2), taken_on(3, 19.99), taken_on(4, 20)};
    CHECK(stages_in_words(photos, {}, part) == "as-removed, cleaned, cleaned, painted");
    book::set_stages(photos, std::vector<StageSigns>(4), part);
    CHECK(photos[3].stage_why == "Ben said that the part is painted from 2026-04-20 on");
    CHECK(photos[3].stage_by_person);
    CHECK(photos[0].stage_why == "taken before p2, which shows it cleaned");
}

TEST_CASE("A word on a part is checked, replaced, taken back, and kept in its history", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    book::save_part(b, book::Part(tag(417)), "Ana", "edit");
    book::set_part_stage(b, tag(417), "2026-04-20", "painted", "Ana");
    book::set_part_stage(b, tag(417), "2026-04-02", "cleaned", "Ana");
    book::set_part_stage(b, tag(417), "2026-04-02", "inspected", "Ben");
    const auto stages = book::part_stages(b, tag(417));
    REQUIRE(stages.size() == 2);
    CHECK(stages[0].stage == "inspected");
    CHECK(stages[0].who == "Ben");
    book::set_part_stage(b, tag(417), "2026-04-20", "", "Ben");
    CHECK(book::part_stages(b, tag(417)).size() == 1);
    CHECK_THROWS_AS(book::set_part_stage(b, tag(417), "2026-02-29", "cleaned", "Ana"), WrongUse);
    CHECK_THROWS_AS(book::set_part_stage(b, tag(417), "2026-4-2", "cleaned", "Ana"), WrongUse);
    CHECK_THROWS_AS(book::set_part_stage(b, tag(417), "2026-04-02", "shiny", "Ana"), WrongUse);
    CHECK_THROWS_AS(book::set_part_stage(b, tag(1), "2026-04-02", "cleaned", "Ana"), WrongUse);
    CHECK(sqlite3_of(scratch / "petrel" / "book.db",
                     "SELECT who, field, before, after FROM history WHERE field LIKE 'stage%' ORDER BY id") ==
          "Ana|stage from 2026-04-20||painted\nAna|stage from 2026-04-02||cleaned\n"
          "Ben|stage from 2026-04-02|cleaned|inspected\nBen|stage from 2026-04-20|painted|");
}

TEST_CASE("A card in the book holds as long as its camera took nothing else between", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto dump = book::begin_dump(b, "/media/card", "Ana");
    const double minutes[] = {0, 1, 2, 3, 20};
    for (int i = 1; i <= 5; ++i) {
        add_photo(b, dump, i, minutes[i - 1]);
        book::PhotoFacts facts;
        facts.serial = "A1";
        book::save_photo_facts(b, {i}, facts);
    }
    book::save_part(b, book::Part(tag(417)), "Ana", "edit");
    for (const int photo : {1, 2, 4, 5}) {
        book::link_by_person(b, {photo}, tag(417), "Ana");
    }
    book::Sighting marker;
    marker.kind = book::SightingKind::scale_marker;
    marker.confirmed = true;
    book::Sighting card;
    card.kind = book::SightingKind::stage_card;
    card.text = "cleaned";
    card.confirmed = true;
    book::save_sightings(b, {1}, {marker, card});
    const auto stages = [&] {
        std::vector<std::string> all;
        for (const auto& p : book::gather_part(b, tag(417)).photos) {
            all.push_back(p.stage);
        }
        return all;
    };
    CHECK(stages() == std::vector<std::string>{"cleaned", "cleaned", "", ""});  // p3 is another part's
    book::link_by_person(b, {3}, tag(417), "Ana");
    CHECK(stages() == std::vector<std::string>{"cleaned", "cleaned", "cleaned", "cleaned", ""});
    card.confirmed = false;
    book::save_sightings(b, {1}, {marker, card});
    CHECK(stages() == std::vector<std::string>(5, ""));
}
