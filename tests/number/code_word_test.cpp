#include "number/code_word.h"

#include <catch2/catch.hpp>

using namespace stripbook::number;

namespace {

const BookCode pet = BookCode::from_typed("PET");

SeenIdentities all_seen(const Identities& ids) {
    return {ids[0], ids[1], ids[2], ids[3]};
}

// Serials over the whole range, with a step that shares no factor with 587.
template <typename Check>
void for_serials(Check check) {
    for (int serial = 1; serial <= highest_serial; serial += 331) {
        check(serial);
    }
}

}  // namespace

TEST_CASE("Identities are those of the tag specification's examples", "[number]") {
    const auto ids = [](const char* book, int serial) {
        return identities_of(TagNumber(BookCode::from_typed(book), serial));
    };
    CHECK(ids("PET", 1) == Identities{302, 128, 333, 53});
    CHECK(ids("PET", 417) == Identities{131, 373, 407, 543});
    CHECK(ids("PET", 99999) == Identities{93, 127, 540, 468});
    CHECK(ids("OAK", 29565) == Identities{263, 14, 12, 102});
    CHECK(ids("A7", 586) == Identities{542, 391, 165, 519});
    CHECK(ids("A7", 587) == Identities{544, 394, 169, 524});
    CHECK(ids("W0RK", 34568) == Identities{402, 365, 206, 284});
}

TEST_CASE("The code has minimum distance 3: exactly as many code words of each weight as an MDS code",
          "[number]") {
    // Weight formula of MDS codes: A3 = C(4,3) * 586 = 2,344 and A4 = 587^2 - 1 - A3 = 342,224. The
    // differences of identities do not depend on the salt, so the weights are counted on differences from
    // serial 0's word.
    int weight3 = 0;
    int weight4 = 0;
    int lower = 0;
    for (int m0 = 0; m0 < field_size; ++m0) {
        for (int m1 = 0; m1 < field_size; ++m1) {
            int weight = 0;
            for (int x = 1; x <= 4; ++x) {
                weight += (m0 + m1 * x) % field_size != 0 ? 1 : 0;
            }
            weight3 += weight == 3 ? 1 : 0;
            weight4 += weight == 4 ? 1 : 0;
            lower += weight < 3 ? 1 : 0;
        }
    }
    CHECK(lower == 1);  // the zero word
    CHECK(weight3 == 2344);
    CHECK(weight4 == 342224);
    // And the words the program draws keep that distance from each other.
    const Identities first = identities_of(TagNumber(pet, 417));
    for_serials([&](int serial) {
        const Identities other = identities_of(TagNumber(pet, serial));
        int different = 0;
        for (std::size_t i = 0; i < 4; ++i) {
            different += first[i] != other[i] ? 1 : 0;
        }
        CHECK((serial == 417 || different >= 3));
    });
}

TEST_CASE("Whole or with one fiducial missing, the right number or none: never a wrong one", "[number]") {
    int right = 0;
    int refused = 0;
    for_serials([&](int serial) {
        const TagNumber tag(pet, serial);
        const SeenIdentities whole = all_seen(identities_of(tag));
        for (int missing = -1; missing < 4; ++missing) {
            SeenIdentities seen = whole;
            if (missing >= 0) {
                seen[static_cast<std::size_t>(missing)].reset();
            }
            for (const bool turned : {false, true}) {
                const auto reading = read_code_word(pet, turned ? turned_by_half(seen) : seen);
                if (reading.confirmed) {
                    REQUIRE(*reading.confirmed == tag);
                    REQUIRE(reading.turned == turned);
                    ++right;
                } else {
                    ++refused;
                }
            }
        }
    });
    // A turned triple passes by chance about once in 587 * 3.4 times; nearly all must be read.
    CHECK(right > 3000);
    CHECK(refused < right / 200);
}

TEST_CASE("Two fiducials alone are a suggestion and never confirmed", "[number]") {
    for_serials([&](int serial) {
        const TagNumber tag(pet, serial);
        const SeenIdentities whole = all_seen(identities_of(tag));
        for (std::size_t i = 0; i < 4; ++i) {
            for (std::size_t j = i + 1; j < 4; ++j) {
                SeenIdentities seen{};
                seen[i] = whole[i];
                seen[j] = whole[j];
                const auto reading = read_code_word(pet, seen);
                REQUIRE_FALSE(reading.confirmed);
                REQUIRE(std::find(reading.suggestions.begin(), reading.suggestions.end(), tag) !=
                        reading.suggestions.end());
            }
        }
    });
}

TEST_CASE("One wrong fiducial, with none or one missing: never a wrong number", "[number]") {
    int wrong_with_three = 0;
    for_serials([&](int serial) {
        const TagNumber tag(pet, serial);
        const SeenIdentities whole = all_seen(identities_of(tag));
        for (std::size_t bad = 0; bad < 4; ++bad) {
            for (int step = 1; step < field_size; step += 29) {
                SeenIdentities seen = whole;
                seen[bad] = (*whole[bad] + step) % field_size;
                // Four seen, one of them wrong: the three right ones outvote it, but it contradicts: a
                // suggestion.
                const auto four = read_code_word(pet, seen);
                if (four.confirmed) {
                    wrong_with_three += *four.confirmed == tag ? 0 : 1;
                }
                // Three seen, one wrong: distance 3 means no other number explains all three as they stand;
                // only the turned assignment could, by chance (1 in 587 / 0.29).
                for (std::size_t missing = 0; missing < 4; ++missing) {
                    if (missing == bad) {
                        continue;
                    }
                    SeenIdentities three = seen;
                    three[missing].reset();
                    for (const auto& fit : fits_of(pet, three)) {
                        REQUIRE((fit.agreeing == 2 && fit.disagreeing == 1));
                    }
                }
            }
        }
    });
    CHECK(wrong_with_three == 0);
}

TEST_CASE("A triple that passes both ways round is refused: OAK 295 without corner 0", "[number]") {
    const BookCode oak = BookCode::from_typed("OAK");
    SeenIdentities seen = all_seen(identities_of(TagNumber(oak, 295)));
    seen[0].reset();
    const auto reading = read_code_word(oak, seen);
    CHECK_FALSE(reading.confirmed);
    const auto suggested = [&](int serial) {
        return std::find(reading.suggestions.begin(), reading.suggestions.end(), TagNumber(oak, serial)) !=
               reading.suggestions.end();
    };
    CHECK(suggested(295));
    CHECK(suggested(92206));
}

TEST_CASE("A tag of another book fails the check", "[number]") {
    const BookCode oak = BookCode::from_typed("OAK");
    int passed = 0;
    for_serials([&](int serial) {
        passed += read_code_word(pet, all_seen(identities_of(TagNumber(oak, serial)))).confirmed ? 1 : 0;
    });
    CHECK(passed == 0);
}
