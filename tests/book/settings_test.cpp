#include "book/settings.h"

#include "book/history.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

TEST_CASE("Settings have defaults, and keep what is set", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    CHECK(book::setting(b, "link time") == "3");
    CHECK(book::setting(b, "units") == "mm");
    CHECK(book::setting(b, "time zone") == "UTC");
    CHECK(book::setting(b, "who").empty());
    CHECK(book::setting(b, "workshop").empty());
    book::set_setting(b, "link time", " 2.5 ", "Ana");
    book::set_setting(b, "time zone", "Europe/London", "Ana");
    book::set_setting(b, "time zone", "Europe/London", "Ana");
    CHECK(book::setting(b, "link time") == "2.5");
    const auto all = book::all_settings(b);
    CHECK(all.size() == 7);
    CHECK(book::setting(b, "currency").empty());
    CHECK_FALSE(all[0].is_default);
    CHECK(all[1].is_default);
    CHECK(sqlite3_of(scratch / "petrel" / "book.db", "SELECT who, what, field, before, after FROM history") ==
          "Ana|setting|link time|3|2.5\nAna|setting|time zone|UTC|Europe/London");
}

TEST_CASE("A wrong setting is refused with what is allowed", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    const auto refused = [&](const std::string& name, const std::string& value) {
        return message_of<WrongUse>([&] { book::set_setting(b, name, value, "Ana"); });
    };
    CHECK_THAT(refused("colour", "red"),
               Catch::Contains("link time, link sureness, units, time zone, who, currency, workshop"));
    CHECK_THAT(refused("units", "feet"), Catch::Contains("mm or inch"));
    for (const char* value : {"", "0", "-1", "1441", "1,5", "nan", "inf", "1e2", "three"}) {
        CHECK_THAT(refused("link time", value), Catch::Contains("minutes"));
    }
    for (const char* value : {"", "Europe/Atlantis", "../../../etc/passwd", "/etc/passwd", "Europe"}) {
        CHECK_THAT(refused("time zone", value), Catch::Contains("time zone"));
    }
    CHECK_THAT(refused("who", "two\nlines"), Catch::Contains("one line"));
    CHECK_THAT(refused("workshop", "\xc0\xaf"), Catch::Contains("UTF-8"));
    CHECK_THROWS_AS(book::setting(b, "colour"), WrongUse);
    CHECK(book::history_of(b, "setting").empty());
}

TEST_CASE("Who is at work is the setting, else the login name", "[book]") {
    const ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");
    CHECK(book::who_is_working(b) == output_of("id -un 2>/dev/null || echo unknown"));
    book::set_setting(b, "who", "Ana Lima", "root");
    CHECK(book::who_is_working(b) == "Ana Lima");
}
