#include "book/csv_table.h"

#include <sys/stat.h>

#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;

namespace {

book::CsvTable table_of(const ScratchFolder& scratch, const std::string& bytes) {
    write_file(scratch / "list.csv", bytes);
    return book::read_csv(scratch / "list.csv");
}

std::string refusal_of(const ScratchFolder& scratch, const std::string& bytes) {
    return message_of<BadFile>([&] { table_of(scratch, bytes); });
}

}  // namespace

TEST_CASE("Cells are read as RFC 4180 says", "[book]") {
    const ScratchFolder scratch;
    // The examples of RFC 4180, section 2, rules 1 to 7
    const auto plain = table_of(scratch, "aaa,bbb,ccc\r\nzzz,yyy,xxx");
    REQUIRE(plain.rows.size() == 2);
    CHECK(plain.rows[1].cells[2].text == "xxx");
    const auto line_break = table_of(scratch, "\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx\r\n");
    REQUIRE(line_break.rows.size() == 2);
    CHECK(line_break.rows[0].cells[1].text == "b\nbb");
    CHECK(line_break.rows[0].cells[1].quoted);
    CHECK_FALSE(line_break.rows[1].cells[1].quoted);
    CHECK(line_break.rows[1].line == 3);
    CHECK(table_of(scratch, "\"aaa\",\"b\"\"bb\",\"ccc\"").rows[0].cells[1].text == "b\"bb");
}

TEST_CASE("Every row knows its line in the file, whatever ends its lines", "[book]") {
    const ScratchFolder scratch;
    const auto table = table_of(scratch, "\xef\xbb\xbf\r\n\r\na,b\r\n  \r\n,\r\n\"x\n\ny\",2\n  c,d\r\ne,f");
    REQUIRE(table.rows.size() == 4);
    CHECK(table.rows[0].line == 3);
    CHECK(table.rows[0].cells[0].text == "a");
    CHECK(table.rows[1].line == 6);
    CHECK(table.rows[2].line == 9);
    CHECK(table.rows[2].cells[0].text == "c");
    CHECK(table.rows[3].line == 10);
    const auto old_mac = table_of(scratch, "a,b\rc,d\r\re,f\r");
    REQUIRE(old_mac.rows.size() == 3);
    CHECK(old_mac.rows[2].line == 4);
}

TEST_CASE("The separator is the one the headings use", "[book]") {
    const ScratchFolder scratch;
    CHECK(table_of(scratch, "tag,name\n1,a;b;c;d\n").separator == ',');
    CHECK(table_of(scratch, "tag;name\n1;\"a,b\"\n").separator == ';');
    CHECK(table_of(scratch, "tag\tname\n1\ta,b\n").separator == '\t');
    CHECK(table_of(scratch, "tag;\"name, with, commas\"\n").separator == ';');
    CHECK(table_of(scratch, "tag\n1\n").separator == ',');
    CHECK(table_of(scratch, "").rows.empty());
    const auto tabs = table_of(scratch, "tag\tname\tplace\n1\t\tx\n\t\t\n\ty\t\n");
    REQUIRE(tabs.rows.size() == 3);
    CHECK(tabs.rows[1].cells[2].text == "x");
    CHECK(tabs.rows[2].line == 4);
    CHECK(tabs.rows[2].cells[1].text == "y");
}

TEST_CASE("What is no UTF-8 text is refused with how to save it", "[book]") {
    const ScratchFolder scratch;
    CHECK(refusal_of(scratch, "tag,name\n1,ok\n2,Gro\xdf\n") ==
          "list.csv line 3: is not UTF-8; save it as UTF-8 (in the spreadsheet: save as, CSV, character set "
          "UTF-8); "
          "nothing was taken in");
    CHECK_THAT(refusal_of(scratch, std::string("\xff\xfet\0a\0g\0", 8)), Catch::Contains("UTF-16"));
    CHECK_THAT(refusal_of(scratch, std::string("tag\n1\0\n", 7)),
               Catch::Contains("line 2: holds a zero byte"));
    CHECK_THAT(refusal_of(scratch, "tag,name\n1,\"a\nb\x1b[2J\"\n"),
               Catch::Contains("line 2: \"a\\x0Ab\\x1B[2J\" holds a control character"));
}

TEST_CASE("Bad quoting is refused by its line", "[book]") {
    const ScratchFolder scratch;
    CHECK_THAT(refusal_of(scratch, "tag,name\n1,5\" pipe\n"),
               Catch::Contains("line 2: a quotation mark stands inside"));
    CHECK_THAT(refusal_of(scratch, "tag,name\n1,\"5\" pipe\"\n"),
               Catch::Contains("line 2: a quotation mark stands inside"));
    CHECK_THAT(refusal_of(scratch, "tag,name\n\n1,\"open\n2,b\n3,c\n"),
               Catch::Contains("line 3: a quotation mark opens") && Catch::Contains("never closed"));
}

TEST_CASE("Files that are no list are refused before they are read", "[book]") {
    const ScratchFolder scratch;
    CHECK_THAT(message_of<BadFile>([&] { book::read_csv(scratch / "none.csv"); }),
               Catch::Contains("no such file"));
    CHECK_THAT(message_of<BadFile>([&] { book::read_csv(scratch.path()); }),
               Catch::Contains("is not a file"));
    REQUIRE(mkfifo((scratch / "pipe.csv").c_str(), 0600) == 0);
    CHECK_THAT(message_of<BadFile>([&] { book::read_csv(scratch / "pipe.csv"); }),
               Catch::Contains("is not a file"));
    write_file(scratch / "huge.csv", "tag\n");
    std::filesystem::resize_file(scratch / "huge.csv", (64U << 20U) + 1);
    CHECK_THAT(message_of<BadFile>([&] { book::read_csv(scratch / "huge.csv"); }), Catch::Contains("64 MiB"));
}

TEST_CASE("Cells are written in quotes where they need them", "[book]") {
    CHECK(book::csv_cell("plain") == "plain");
    CHECK(book::csv_cell("a,b") == "\"a,b\"");
    CHECK(book::csv_cell("5\" pipe") == "\"5\"\" pipe\"");
    CHECK(book::csv_cell("two\nlines") == "\"two\nlines\"");
    CHECK(book::csv_cell(" spaces ") == "\" spaces \"");
    CHECK(book::csv_cell("").empty());
}
