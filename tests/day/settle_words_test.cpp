#include "day/settle_words.h"

#include <catch2/catch.hpp>

#include "errors.h"

using namespace stripbook;
using Catch::Contains;
using day::Decision;

namespace {

const number::BookCode pet = number::BookCode::from_typed("PET");

// "3:yes 4:b 5:PET-00417-D 7:apart(p31)"
std::string read(const std::vector<std::string>& words, int highest = 12) {
    std::string told;
    for (const auto& order : day::orders_from_words(words, pet, {highest})) {
        told += (told.empty() ? "" : " ") + std::to_string(order.group.value) + ":";
        switch (order.decision.kind) {
            case Decision::Kind::yes:
                told += "yes";
                break;
            case Decision::Kind::suggestion:
                told += order.decision.letter;
                break;
            case Decision::Kind::part:
                told += order.decision.tag->text();
                break;
            case Decision::Kind::none:
                told += "none";
                break;
            case Decision::Kind::back:
                told += "back";
                break;
            case Decision::Kind::apart:
                told += "apart";
                told += order.decision.cut_before.empty()
                            ? ""
                            : "(" + book::photo_list(order.decision.cut_before) + ")";
        }
    }
    return told;
}

std::string refusal(const std::vector<std::string>& words, int highest = 12) {
    try {
        read(words, highest);
    } catch (const WrongUse& refused) {
        return refused.what();
    }
    return "not refused";
}

}  // namespace

TEST_CASE("Groups, ranges and what becomes of them are read from left to right", "[day]") {
    CHECK(read({"3", "5-7", "yes"}) == "3:yes 5:yes 6:yes 7:yes");
    CHECK(read({"3,5-6", "YES", "4", "b", "7", "apart", "p31", "8", "none", "9", "back"}) ==
          "3:yes 5:yes 6:yes 4:b 7:apart(p31) 8:none 9:back");
    CHECK(read({"7", "apart", "P31", "p33"}) == "7:apart(p31, p33)");
    CHECK(read({"7", "8", "apart"}) == "7:apart 8:apart");
}

TEST_CASE("A part may be named in any form where it cannot be taken for a group", "[day]") {
    CHECK(read({"4", "PET-00417-D"}) == "4:PET-00417-D");
    CHECK(read({"4", "pet-00417"}) == "4:PET-00417-D");
    CHECK(read({"4", "417"}) == "4:PET-00417-D");
    CHECK_THAT(refusal({"4", "2"}), Contains("group or a part") && Contains("PET-00417"));
    CHECK_THAT(refusal({"4", "417", "yes"}), Contains("there is no group 417"));
    CHECK_THAT(refusal({"4", "PET-00417-E"}), Contains("check"));
}

TEST_CASE("What is not understood is refused in words that help", "[day]") {
    CHECK_THAT(refusal({}), Contains("settle 3 5-9 yes"));
    CHECK_THAT(refusal({"3"}), Contains("what becomes of group 3"));
    CHECK_THAT(refusal({"yes"}), Contains("number first"));
    CHECK_THAT(refusal({"3", "3", "yes"}), Contains("named twice"));
    CHECK_THAT(refusal({"3-5", "4", "yes"}), Contains("group 4 is named twice"));
    CHECK_THAT(refusal({"9-5", "yes"}), Contains("5-9"));
    CHECK_THAT(refusal({"13", "yes"}), Contains("groups are 1 to 12"));
    CHECK_THAT(refusal({"5-13", "yes"}), Contains("there is no group 13"));
    CHECK_THAT(refusal({"0", "yes"}), Contains("there is no group 0"));
    CHECK_THAT(refusal({"1", "yes"}, 0), Contains("no groups"));
    CHECK_THAT(refusal({"3", "perhaps"}), Contains("\"perhaps\"") && Contains("none"));
    CHECK_THAT(refusal({"3", "p31"}), Contains("\"p31\""));
    CHECK_THAT(refusal({"3", "4", "apart", "p31"}), Contains("one group"));
    CHECK_THAT(refusal({"3", "\x1b[31mx"}), Contains("\\x1B[31mx"));
    CHECK_THAT(refusal({"99999999999999999999", "yes"}), !Contains("not refused"));
}
