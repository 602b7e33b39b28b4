#include "dump/second_copies.h"

#include <catch2/catch.hpp>
#include <cerrno>

#include "book/originals.h"
#include "dump/book_for_test.h"
#include "dump/card_for_test.h"
#include "dump/door_for_test.h"
#include "dump/outside_tools.h"
#include "errors.h"

using namespace stripbook;
using namespace stripbook::dump;
using namespace stripbook::test;
using Catch::Contains;

namespace {

void write_three_photos(const std::filesystem::path& card) {
    for (int i = 1; i <= 3; ++i) {
        write_file(card / ("DCIM/100FERRO/FVA_000" + std::to_string(i) + ".JPG"),
                   photo_bytes(static_cast<std::size_t>(i) * 1'000'000, static_cast<unsigned>(i)));
    }
}

}  // namespace

TEST_CASE(
    "with a second folder every file is proved twice, and a folder on the book's own disk is remarked on") {
    const BookForTest test;
    write_three_photos(test.card);
    const auto result = test.dump(test.with_second());
    CHECK(result.every_file_proved_twice);
    test.check_holds_the_card();
    test.check_second_holds_the_card();
    REQUIRE(result.remarks.size() == 1);
    CHECK_THAT(result.remarks[0], Contains("same disk"));
}

TEST_CASE("files that the book knew get their second copy when the card comes again") {
    const BookForTest test;
    write_three_photos(test.card);
    CHECK_FALSE(test.dump().files[0].second_copy);
    const auto again = test.dump(test.with_second());
    CHECK(again.every_file_proved_twice);
    CHECK(again.files[0].known);
    test.check_second_holds_the_card();
}

TEST_CASE("a second copy that went missing is made again, and one that was changed is a failure and stays") {
    const BookForTest test;
    write_three_photos(test.card);
    test.dump(test.with_second());
    const auto first = test.second / "PET/photos/0001/DCIM/100FERRO/FVA_0001.JPG";
    const auto other = test.second / "PET/photos/0001/DCIM/100FERRO/FVA_0002.JPG";
    std::filesystem::remove(first);
    write_file(other, "changed");
    const auto again = test.dump(test.with_second());
    CHECK(again.every_file_proved);
    CHECK_FALSE(again.every_file_proved_twice);
    CHECK(again.files[0].second_copy);
    CHECK_FALSE(again.files[1].second_copy);
    CHECK_THAT(again.files[1].second_failure, Contains("FVA_0002.JPG\" holds other bytes; move it away"));
    CHECK(again.files[2].second_copy);
    CHECK(output_of("cat " + quoted(other)) == "changed");
}

TEST_CASE("a second folder that cannot be used does not keep the first copies back") {
    const BookForTest test;
    write_three_photos(test.card);
    write_file(test.second, "a file where the folder should be");
    const auto result = test.dump(test.with_second());
    CHECK(result.every_file_proved);
    CHECK_FALSE(result.every_file_proved_twice);
    for (const auto& file : result.files) {
        CHECK(file.failure.empty());
        CHECK_THAT(file.second_failure, Contains("no second copy") && Contains("Not a directory"));
    }
    test.check_holds_the_card();
}

TEST_CASE("a second disk that fills up is said for each file, and the first copies go on") {
    const BookForTest test;
    write_three_photos(test.card);
    DoorForTest door;
    door.before = [&](const std::string& operation, const std::filesystem::path& path) {
        if (operation == "write" && path.string().rfind(test.second.string(), 0) == 0) {
            throw FileError("cannot write", path, ENOSPC);
        }
    };
    const auto result = test.dump(door, test.with_second());
    CHECK(result.every_file_proved);
    CHECK_FALSE(result.every_file_proved_twice);
    for (const auto& file : result.files) {
        CHECK_THAT(file.second_failure, Contains("No space left on device") && Contains("make room there"));
    }
    CHECK(std::filesystem::is_empty(test.second / "PET/.incoming"));
    door.before = [](const std::string&, const std::filesystem::path&) {};
    CHECK(test.dump(door, test.with_second()).every_file_proved_twice);
    test.check_second_holds_the_card();
}

TEST_CASE(
    "a second disk that lies once is tried again from the book, and one that always lies is not believed") {
    const BookForTest test;
    write_three_photos(test.card);
    DoorForTest door;
    int lies = 1;
    door.lies = [&](const std::filesystem::path& path) {
        return path.string().rfind(test.second.string(), 0) == 0 && lies-- > 0;
    };
    SECTION("once") {
        CHECK(test.dump(door, test.with_second()).every_file_proved_twice);
        CHECK(lies < 0);
        test.check_second_holds_the_card();
    }
    SECTION("always") {
        lies = 1000;
        const auto result = test.dump(door, test.with_second());
        CHECK(result.every_file_proved);
        CHECK_FALSE(result.every_file_proved_twice);
        CHECK_THAT(result.files[0].second_failure, Contains("does not read back as written"));
        CHECK(sums_under(test.second).empty());
        CHECK(book::originals_without_second_copy(test.open(book::Access::read)) == 3);
    }
}

TEST_CASE("the book's own file under a second name is no second copy") {
    const BookForTest test;
    write_three_photos(test.card);
    test.dump();
    std::filesystem::create_directories(test.second / "PET");
    SECTION("by a link") {
        std::filesystem::create_directory_symlink(test.book / "photos", test.second / "PET/photos");
    }
    SECTION("by a hard link") {
        output_of("cp -al " + quoted(test.book / "photos") + " " + quoted(test.second / "PET/photos"));
    }
    const auto again = test.dump(test.with_second());
    CHECK(again.every_file_proved);
    CHECK_FALSE(again.every_file_proved_twice);
    CHECK_THAT(again.files[0].second_failure, Contains("is the book's own file under another name"));
}

TEST_CASE("second copies never go onto the card or into the book, whatever the folder is called") {
    const BookForTest test;
    write_three_photos(test.card);
    const auto refused = [&](const std::filesystem::path& second) {
        auto options = BookForTest::options_for_test();
        options.second_folder = second;
        CHECK_THROWS_AS(test.dump(options), WrongUse);
    };
    const std::string before = everything_about(test.card);
    refused(test.card);
    refused(test.card / "new");
    refused(test.card / "DCIM/..");
    refused(test.book);
    refused(test.book / "photos");
    // Beside a book whose folder is called PET, "second/PET" would be the book itself, beside such a card the
    // card.
    std::filesystem::create_directories(test.folder / "shelf");
    std::filesystem::create_directory_symlink(test.book, test.folder / "shelf/PET");
    refused(test.folder / "shelf");
    std::filesystem::create_directories(test.folder / "cards");
    std::filesystem::create_directory_symlink(test.card, test.folder / "cards/PET");
    refused(test.folder / "cards");
    CHECK(everything_about(test.card) == before);
    CHECK(test.stored_names().empty());
}
