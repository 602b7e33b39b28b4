#include "tag/group.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "number/code_word.h"
#include "number/tag_layout.h"
#include "tag/read_tags.h"

using namespace stripbook;
using fiducial::Fiducial;
using number::BookCode;
using number::TagNumber;

namespace {

const BookCode pet = BookCode::from_typed("PET");
const cv::Mat no_picture(400, 400, CV_8UC1, cv::Scalar(128));

// A tag's fiducials as a camera would see them through a known plane, drawn from the specification without a
// picture: fiducial i is printed turned clockwise by i quarter turns, so its own top left lies at the
// square's corner i.
std::vector<Fiducial> seen_through(const cv::Matx33d& photo_from_tag, const TagNumber& tag) {
    const auto ids = number::identities_of(tag);
    const std::array<cv::Point2d, 4> square{cv::Point2d{-8, -8}, {8, -8}, {8, 8}, {-8, 8}};
    const std::array<cv::Point2d, 4> centres{cv::Point2d{24, 11}, {109, 11}, {109, 49}, {24, 49}};
    std::vector<Fiducial> found;
    for (std::size_t i = 0; i < 4; ++i) {
        Fiducial f;
        f.identity = ids[i];
        f.centre = tag::mapped(photo_from_tag, centres[i]);
        for (std::size_t corner = 0; corner < 4; ++corner) {
            f.corners[corner] = tag::mapped(photo_from_tag, centres[i] + square[(corner + i) % 4]);
        }
        found.push_back(f);
    }
    return found;
}

cv::Matx33d turned_plane(double degrees, double px_per_mm, const cv::Point2d& at) {
    const double a = degrees * CV_PI / 180;
    const double c = std::cos(a) * px_per_mm;
    const double s = std::sin(a) * px_per_mm;
    return {c, -s, at.x, s, c, at.y, 1.5e-4, -1e-4, 1};
}

tag::QrCode code_of(const cv::Matx33d& photo_from_tag, const TagNumber& number) {
    tag::QrCode code{number.text(), {}};
    const std::array<cv::Point2d, 4> printed{
        cv::Point2d{38.45, 18.45}, {61.55, 18.45}, {61.55, 41.55}, {38.45, 41.55}};
    for (std::size_t i = 0; i < 4; ++i) {
        const cv::Point2d p = tag::mapped(photo_from_tag, printed[i]);
        code.corners[i] = {std::round(p.x), std::round(p.y)};  // whole pixels, as the library gives them
    }
    return code;
}

}  // namespace

TEST_CASE("Four fiducials at any turn make one group and say the number", "[tag]") {
    for (int degrees = 0; degrees < 360; degrees += 15) {
        const TagNumber tag(pet, 417 + degrees);
        const auto plane = turned_plane(degrees, 2.0, {500, 400});
        const auto reading = tag::read_tags(no_picture, seen_through(plane, tag), {}, pet);
        REQUIRE(reading.tags.size() == 1);
        REQUIRE(reading.tags[0].number);
        CHECK(*reading.tags[0].number == tag);
        CHECK(reading.tags[0].how() == "4 fiducials");
        // The face's own top left, which the half turn of the layout could have swapped.
        const cv::Point2d top_left = tag::mapped(plane, {0, 0});
        CHECK(cv::norm(reading.tags[0].corners[0] - top_left) < 0.05);
    }
}

TEST_CASE("Tags side by side are kept apart", "[tag]") {
    std::vector<Fiducial> found;
    std::vector<TagNumber> tags;
    for (int i = 0; i < 12; ++i) {
        tags.emplace_back(pet, 1000 + i);
        const auto one = seen_through(turned_plane(0, 2.0, {(i % 3) * 245.0, (i / 3) * 122.0}), tags.back());
        found.insert(found.end(), one.begin(), one.end());
    }
    std::vector<TagNumber> read;
    for (const auto& sighting : tag::read_tags(no_picture, found, {}, pet).tags) {
        REQUIRE(sighting.number);
        read.push_back(*sighting.number);
    }
    std::sort(read.begin(), read.end());
    CHECK(read == tags);
}

TEST_CASE("One or two fiducials are a suggestion, three are enough", "[tag]") {
    const TagNumber tag(pet, 417);
    auto found = seen_through(turned_plane(30, 2.0, {200, 100}), tag);
    found.pop_back();
    REQUIRE(tag::read_tags(no_picture, found, {}, pet).tags[0].number == tag);
    found.pop_back();
    const auto two = tag::read_tags(no_picture, found, {}, pet);
    REQUIRE(two.tags.size() == 1);
    CHECK_FALSE(two.tags[0].number);
    CHECK(two.tags[0].doubt == "two fiducials alone are not enough to be sure");
    CHECK(std::find(two.tags[0].suggestions.begin(), two.tags[0].suggestions.end(), tag) !=
          two.tags[0].suggestions.end());
    found.pop_back();
    const auto one = tag::read_tags(no_picture, found, {}, pet);
    REQUIRE(one.tags.size() == 1);
    CHECK_FALSE(one.tags[0].number);
    CHECK(one.tags[0].suggestions.empty());
    // As an inkblot or rust may look: no square in any perspective that a whole tag beside it could have.
    auto blot = found;
    auto& corners = blot[0].corners;
    corners[2] = corners[0] + 0.3 * (corners[2] - corners[0]);
    CHECK(tag::read_tags(no_picture, blot, {}, pet).tags.empty());
}

TEST_CASE("The QR code decides the half turn and is held against every fiducial", "[tag]") {
    const TagNumber tag(pet, 417);
    const TagNumber other(pet, 424);
    const auto plane = turned_plane(200, 2.0, {600, 500});
    const auto found = seen_through(plane, tag);

    const auto agreed = tag::read_tags(no_picture, found, {code_of(plane, tag)}, pet);
    REQUIRE(agreed.tags.size() == 1);
    CHECK(agreed.tags[0].number == tag);
    CHECK(agreed.tags[0].how() == "QR code and 4 fiducials");

    const auto contradicted = tag::read_tags(no_picture, found, {code_of(plane, other)}, pet);
    REQUIRE(contradicted.tags.size() == 1);
    CHECK_FALSE(contradicted.tags[0].number);
    CHECK(contradicted.tags[0].doubt == "the QR code says PET-00424-F and 4 of 4 fiducials do not");
    CHECK(contradicted.tags[0].suggestions == std::vector<TagNumber>{other, tag});

    auto one_wrong = found;
    one_wrong[2].identity = (one_wrong[2].identity + 5) % number::field_size;
    CHECK_FALSE(tag::read_tags(no_picture, one_wrong, {code_of(plane, tag)}, pet).tags[0].number);
    const auto without_code = tag::read_tags(no_picture, one_wrong, {}, pet);
    CHECK_FALSE(without_code.tags[0].number);
}

TEST_CASE("A lone fiducial beside a QR code is known to be of the same tag, or of another", "[tag]") {
    const TagNumber tag(pet, 417);
    const auto plane = turned_plane(75, 3.0, {600, 500});
    for (const auto& lone : seen_through(plane, tag)) {
        const auto reading = tag::read_tags(no_picture, {lone}, {code_of(plane, tag)}, pet);
        REQUIRE(reading.tags.size() == 1);
        CHECK(reading.tags[0].number == tag);
        CHECK(reading.tags[0].how() == "QR code and 1 fiducial");
    }
    const auto elsewhere = seen_through(turned_plane(10, 3.0, {1500, 900}), TagNumber(pet, 500));
    const auto two_tags = tag::read_tags(no_picture, {elsewhere[1]}, {code_of(plane, tag)}, pet);
    CHECK(two_tags.tags.size() == 2);
}

TEST_CASE(
    "Fiducials of another book are named when its QR code is in the picture, and said to be foreign else",
    "[tag]") {
    const BookCode oak = BookCode::from_typed("OAK");
    const auto near = turned_plane(0, 3.0, {100, 100});
    const auto far = turned_plane(40, 2.0, {900, 400});
    const auto foreign = seen_through(far, TagNumber(oak, 44966));
    const auto with_code = tag::read_tags(no_picture, foreign, {code_of(near, TagNumber(oak, 29565))}, pet);
    REQUIRE(with_code.tags.size() == 2);
    CHECK(with_code.tags[1].number == TagNumber(oak, 44966));
    const auto alone = tag::read_tags(no_picture, foreign, {}, pet);
    CHECK_FALSE(alone.tags[0].number);
    CHECK(alone.tags[0].doubt ==
          "four clear fiducials that say no number of PET: most likely a tag of another book");
}

TEST_CASE("Codes that are no tag numbers are kept apart: a report on the bench is never taken for the tag",
          "[tag]") {
    const auto plane = turned_plane(0, 3.0, {100, 100});
    auto code = code_of(plane, TagNumber(pet, 417));
    code.text = "R/PET-00417-D";
    const auto reading = tag::read_tags(no_picture, {}, {code}, pet);
    CHECK(reading.tags.empty());
    REQUIRE(reading.other_codes.size() == 1);
}
