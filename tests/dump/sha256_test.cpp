#include "dump/sha256.h"

#include <catch2/catch.hpp>
#include <string>

using stripbook::dump::Sha256;

namespace {

std::string sum_of(const std::string& text) {
    Sha256 sum;
    sum.update(text);
    return sum.hex();
}

}  // namespace

// Sums: the examples of FIPS 180-4 (NIST, "SHA-256 examples"), also what coreutils' sha256sum gives.
TEST_CASE("SHA-256 sums are those of the FIPS 180-4 examples") {
    CHECK(sum_of("") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
    CHECK(sum_of("abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
    CHECK(sum_of("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq") ==
          "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
    CHECK(sum_of("abcdefghbcdefghicdefghijdefghijkefghijklfghijklmghijklmn"
                 "hijklmnoijklmnopjklmnopqklmnopqrlmnopqrsmnopqrstnopqrstu") ==
          "cf5b16a778af8380036ce59e7b0492370b249b11e8f07a51afac45037afee9d1");
    CHECK(sum_of(std::string(1'000'000, 'a')) ==
          "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}

TEST_CASE("a SHA-256 sum does not depend on the pieces it is fed in") {
    Sha256 sum;
    for (int i = 0; i < 1'000'000; i += 1000) {
        sum.update(std::string(999, 'a'));
        sum.update("");
        sum.update("a");
    }
    CHECK(sum.hex() == "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
}
