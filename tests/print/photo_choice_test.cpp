#include "print/photo_choice.h"

#include <catch2/catch.hpp>
#include <string>
#include <utility>
#include <vector>

#include "print/sample_part.h"

using namespace stripbook;

namespace {

using Numbers = std::vector<std::pair<std::int64_t, std::int64_t>>;

Numbers pairs_of(const book::PartFile& file) {
    Numbers numbers;
    for (const auto& [before, after] : print::before_and_after(file)) {
        numbers.emplace_back(before->photo.number.value, after->photo.number.value);
    }
    return numbers;
}

}  // namespace

TEST_CASE("Before and after are the first photos of the stages, in the order of the work", "[print]") {
    book::PartFile file(test::sample_part());
    CHECK(pairs_of(file).empty());
    file.photos.push_back(test::sample_photo(1, "as-removed"));
    file.photos.push_back(test::sample_photo(2, "as-removed"));
    file.photos.push_back(test::sample_photo(3, ""));
    CHECK(pairs_of(file).empty());
    // The painted one lies before the cleaned one in the book: a late card.
    file.photos.push_back(test::sample_photo(4, "painted"));
    file.photos.push_back(test::sample_photo(5, "cleaned"));
    file.photos.push_back(test::sample_photo(6, "cleaned"));
    CHECK(pairs_of(file) == Numbers{{1, 5}, {5, 4}});
}

TEST_CASE("A photo without a scale marker is the better picture of a stage, and a video is none", "[print]") {
    book::PartFile file(test::sample_part());
    file.photos.push_back(test::sample_photo(1, "as-removed"));
    file.photos.front().photo.original.kind = book::FileKind::video;
    file.photos.push_back(test::sample_photo(2, "as-removed"));
    file.photos.back().on_bench = true;
    file.photos.push_back(test::sample_photo(3, "blasted"));
    CHECK(pairs_of(file) == Numbers{{2, 3}});
    file.photos.push_back(test::sample_photo(4, "as-removed"));
    CHECK(pairs_of(file) == Numbers{{4, 3}});
}
