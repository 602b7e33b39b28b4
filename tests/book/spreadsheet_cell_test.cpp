#include "book/spreadsheet_cell.h"

#include <catch2/catch.hpp>

using stripbook::book::defused;
using stripbook::book::without_defusing;

TEST_CASE("A cell that a spreadsheet would run gets an apostrophe, a number stays a number", "[book]") {
    for (const char* text :
         {"=1+1", "+SUM(A1)", "-cmd|' /C calc'!A0", "@SUM(A1)", "\t=1", "\r=1", "  =1",
          "\xef\xbc\x9d"
          "1",
          "\xc2\xa0=1", "\xe3\x80\x80@x", "-", "-x", "-1+2", "'=1", "- 5", "\xe2\x80\x8b=1"}) {
        INFO(text);
        CHECK(defused(text) == std::string("'") + text);
        CHECK(without_defusing(defused(text)) == text);
    }
    for (const char* text :
         {"", "-5", "+3.25", "-1,250.00", "-1e-5", "5", "a=b", "'quoted'", "Rack A", "1-2"}) {
        INFO(text);
        CHECK(defused(text) == text);
        CHECK(without_defusing(text) == text);
    }
}
