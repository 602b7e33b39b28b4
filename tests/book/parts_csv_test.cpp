#include "book/parts_csv.h"

#include <chrono>

#include "book/history.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using book::Part;

namespace {

struct List {
    ScratchFolder scratch;
    book::Book b = new_book(scratch / "petrel");

    book::ImportPlan plan(const std::string& bytes) const {
        write_file(scratch / "parts.csv", bytes);
        return book::plan_import(b, scratch / "parts.csv");
    }
    book::ImportPlan import(const std::string& bytes) {
        auto planned = plan(bytes);
        book::apply_import(b, planned, "Ana", "parts import parts.csv");
        return planned;
    }
    [[nodiscard]] std::string refusal(const std::string& bytes) const {
        return message_of<BadFile>([&] { plan(bytes); });
    }
    [[nodiscard]] Part part(int serial) const {
        const auto found = book::find_part(b, tag(serial));
        REQUIRE(found);
        return *found;
    }
};

}  // namespace

TEST_CASE("A parts list is read by its headings, in any order and case", "[book]") {
    List list;
    const auto plan = list.import(
        "Path, NAME ,Quantity,tag,quantity present,Face Height (mm),Maker's "
        "No,assembly,place,storage,condition\r\n"
        "repair,Fuel tap,2,pet-00417-d,1,16.5,B 17,Fuel,left tank,shelf 4,\"seized,\r\nthread torn\"\r\n"
        ",Bracket,,418,,,,,,,\r\n");
    CHECK(plan.changed.size() == 2);
    CHECK(plan.changed[0].is_new);
    CHECK(plan.columns_kept_as_notes == std::vector<std::string>{"Maker's No"});
    CHECK(plan.remarks.empty());
    Part expected(tag(417));
    expected.name = "Fuel tap";
    expected.assembly = "Fuel";
    expected.place = "left tank";
    expected.storage = "shelf 4";
    expected.quantity_expected = 2;
    expected.quantity_present = 1;
    expected.face_height_mm = 16.5;
    expected.condition = "seized,\nthread torn";
    expected.path = "repair";
    expected.notes = {{"Maker's No", "B 17"}};
    expected.listed = true;
    CHECK(list.part(417) == expected);
    CHECK(list.part(418).name == "Bracket");
    CHECK(list.part(418).path == "undecided");
    const auto history = book::history_of(list.b, "PET-00417-D");
    CHECK(history.at(0).how == "parts import parts.csv");
    CHECK(history.at(1).field == "name");
    CHECK(history.at(1).who == "Ana");
}

TEST_CASE("Planning changes nothing, and importing twice changes nothing more", "[book]") {
    List list;
    const std::string csv = "tag,name\n417,Fuel tap\n418,Bracket\n";
    list.plan(csv);
    CHECK(book::all_parts(list.b).empty());
    list.import(csv);
    const auto again = list.import(csv);
    CHECK(again.changed.empty());
    CHECK(again.unchanged == 2);
    const auto changed = list.import("tag,name,storage\n418,Bracket left,shelf 2\n417,,\n");
    REQUIRE(changed.changed.size() == 1);
    CHECK_FALSE(changed.changed[0].is_new);
    CHECK(changed.changed[0].changes ==
          std::vector<book::CellChange>{{"name", "Bracket", "Bracket left"}, {"storage", "", "shelf 2"}});
    CHECK(list.part(417).name == "Fuel tap");  // a blank cell leaves the book's value alone
}

TEST_CASE("A part known from a photo becomes listed", "[book]") {
    List list;
    book::add_seen_part(list.b, tag(417), {1}, "stripbook");
    list.import("tag\n417\n");
    CHECK(list.part(417).listed);
}

TEST_CASE("Inches, fractions and decimal commas are understood", "[book]") {
    List list;
    list.import("tag,face height in\n1,3 5/16\n2,0.625\n3,5/8\n");
    CHECK(list.part(1).face_height_mm == Approx(84.1375).epsilon(1e-15));  // 3.3125 x 25.4
    CHECK(list.part(2).face_height_mm == Approx(15.875).epsilon(1e-15));
    CHECK(list.part(3).face_height_mm == list.part(2).face_height_mm);
    const auto semicolons = list.import("tag;face height\n4;16,0\n5;1,125\n");
    CHECK(semicolons.remarks ==
          std::vector<std::string>{"read with ; as the separator and , as the decimal mark"});
    CHECK(list.part(4).face_height_mm == 16.0);
    CHECK(list.part(5).face_height_mm == 1.125);
    const auto tabs = list.import("tag\tface height\n6\t16,5\n");
    CHECK(tabs.remarks ==
          std::vector<std::string>{"read with tab as the separator and , as the decimal mark"});
    const auto quoted = list.import("tag,face height mm\n7,\"16,25\"\n");
    CHECK(quoted.remarks == std::vector<std::string>{"read with , as the decimal mark"});
    CHECK(list.part(7).face_height_mm == 16.25);
    CHECK_THAT(list.refusal("tag,face height mm\n7,\"1,250\"\n"), Catch::Contains("line 2: \"1,250\""));
}

TEST_CASE("What is wrong in a list is named by its line, and nothing is taken in", "[book]") {
    List list;
    CHECK(list.refusal("tag,name\n1,a\n2,b\n\n3,c\n4,d\nPET-00417-E,e\n") ==
          "parts.csv line 7: \"PET-00417-E\" is not a tag number: the check character E does not fit "
          "PET-00417; look at "
          "the tag again; nothing was taken in");
    CHECK_THAT(list.refusal(""), Catch::Contains("parts.csv: is empty"));
    CHECK_THAT(list.refusal("\xef\xbb\xbf\r\n"), Catch::Contains("is empty"));
    CHECK_THAT(list.refusal("name,place\nx,y\n"), Catch::Contains("line 1: there is no column \"tag\""));
    CHECK_THAT(list.refusal("tag,name,Name\n"),
               Catch::Contains("line 1: the column \"Name\" is there twice"));
    CHECK_THAT(list.refusal("tag,quantity,quantity expected\n"), Catch::Contains("is there twice"));
    CHECK_THAT(list.refusal("tag,weight,Weight\n"), Catch::Contains("is there twice"));
    CHECK_THAT(list.refusal("tag,face height mm,face height in\n"), Catch::Contains("in mm and in inches"));
    CHECK_THAT(list.refusal("tag,name\n417,a\nPET-00417,b\n"),
               Catch::Contains("line 3: PET-00417-D stands in line 2 already"));
    CHECK_THAT(list.refusal("tag,name\nOAK-00417,b\n"),
               Catch::Contains("belongs to book OAK, this is book PET"));
    CHECK_THAT(list.refusal("tag,name\n,b\n"), Catch::Contains("line 2: this row has no tag number"));
    CHECK_THAT(list.refusal("name,tag\nb\n"), Catch::Contains("line 2: this row has no tag number"));
    CHECK_THAT(list.refusal("tag,name\n0,b\n"), Catch::Contains("from 1 to 99999"));
    CHECK_THAT(list.refusal("tag,name\n1,a,b\n"),
               Catch::Contains("line 2: there are 3 cells for 2 headings"));
    CHECK_THAT(list.refusal("tag,,name\n1,x,a\n"), Catch::Contains("a column without a heading"));
    CHECK_THAT(list.refusal("tag,path\n1,sell\n"),
               Catch::Contains("line 2: \"sell\" is not a path: there are undecided"));
    for (const char* quantity : {"-1", "1.5", "\"1,000\"", "1000001", "two", "1e3", "99999999999999999999"}) {
        CHECK_THAT(list.refusal("tag,quantity\n1," + std::string(quantity) + "\n"),
                   Catch::Contains("is not a quantity"));
    }
    for (const char* height :
         {"-1", "1e3", "nan", "inf", "100001", "16 cm", "1.2.3", "\"1.234,5\"", "\"1,2,3\""}) {
        CHECK_THAT(list.refusal("tag,face height mm\n1," + std::string(height) + "\n"),
                   Catch::Contains("is not a face height"));
    }
    CHECK(book::all_parts(list.b).empty());
}

TEST_CASE("Blank rows, blank cells too many and short rows are no fault", "[book]") {
    List list;
    const auto plan = list.import("tag,name,place,,\n1,a,,,\n,,,,\n2\n3,c,x,,,,,\n");
    CHECK(plan.changed.size() == 3);
    CHECK(list.part(3).place == "x");
    CHECK(plan.columns_kept_as_notes.empty());
}

TEST_CASE("A note's heading keeps the capitals it has in the book", "[book]") {
    List list;
    list.import("tag,Weight\n1,4 kg\n");
    list.import("tag,WEIGHT\n1,5 kg\n2,6 kg\n");
    CHECK(list.part(1).notes == std::map<std::string, std::string>{{"Weight", "5 kg"}});
    CHECK(list.part(2).notes == std::map<std::string, std::string>{{"Weight", "6 kg"}});
}

TEST_CASE("The exported list is what RFC 4180 asks for, written out by hand", "[book]") {
    List list;
    list.import(
        "tag,name,quantity,face height mm,path,drawing\n417,\"5\"\" pipe, bent\",2,16.5,buy,P "
        "12\n3,Bracket,,,,\n");
    CHECK(book::export_parts(list.b) ==
          "tag,name,assembly,place,storage,quantity expected,quantity present,face height "
          "mm,condition,path,other tag,parent,drawing\r\n" +
              tag(3).text() + ",Bracket,,,,,,,,undecided,,,\r\n" +
              "PET-00417-D,\"5\"\" pipe, bent\",,,,2,,16.5,,buy,,,P 12\r\n");
}

TEST_CASE("Hard names survive export and import, and another CSV reader agrees", "[book]") {
    List list;
    std::string long_name;
    for (int i = 0; i < 300; ++i) {
        long_name += "ü";
    }
    const std::vector<std::string> names{"<script>alert('x')</script>",
                                         "صمام الوقود",
                                         "a;b\tc,d",
                                         "\"quoted\"",
                                         "=1+2",
                                         "two\nlines\n",
                                         " outer spaces ",
                                         long_name,
                                         "'single'",
                                         "\xef\xbb\xbf",
                                         "100 %",
                                         "\xe2\x80\xae turned",
                                         "NULL"};
    int serial = 0;
    for (const auto& name : names) {
        Part part(tag(++serial));
        part.name = name;
        part.listed = true;
        part.face_height_mm = 25.4 / serial;
        part.notes = {{"höhe, außen", name}, {"\"note\"", "x"}};
        book::save_part(list.b, part, "Ana", "edit");
    }
    const std::string csv = book::export_parts(list.b);
    List other;
    other.import(csv);
    CHECK(book::all_parts(other.b) == book::all_parts(list.b));
    CHECK(book::export_parts(other.b) == csv);
    // The sqlite3 tool reads the same cells.
    write_file(list.scratch / "out.csv", csv);
    const auto file = list.scratch / "independent.db";
    const std::string script =
        ".import --csv \"" + (list.scratch / "out.csv").string() + "\" list\n" + "ATTACH '" +
        (list.scratch / "petrel" / "book.db").string() + "' AS petrel;\n" +
        "SELECT count(*) FROM list JOIN petrel.part AS p ON p.tag = list.tag AND p.name = list.name "
        "AND list.\"höhe, außen\" = p.name;\n"
        // The one that a spreadsheet would run is defused.
        "SELECT tag FROM list WHERE name = '''=1+2' AND \"höhe, außen\" = name;\n";
    write_file(list.scratch / "script.sql", script);
    CHECK(output_of("sqlite3 -batch \"" + file.string() + "\" < \"" + (list.scratch / "script.sql").string() +
                    "\"") == std::to_string(names.size() - 1) + "\n" + tag(5).text());
}

TEST_CASE("An import that fails on its way changes nothing", "[book]") {
    List list;
    auto plan = list.plan("tag,name\n1,a\n2,b\n");
    plan.changed[1].part.path = "sell";
    CHECK_THROWS_AS(book::apply_import(list.b, plan, "Ana", "parts import"), WrongUse);
    CHECK(book::all_parts(list.b).empty());
}

TEST_CASE("A list of ten thousand parts goes in within seconds", "[book]") {
    List list;
    std::string csv = "tag,name,assembly,place,storage,quantity\n";
    for (int i = 1; i <= 10000; ++i) {
        csv += std::to_string(i) + ",Bracket " + std::to_string(i) + ",Frame,left side,shelf 4,2\n";
    }
    const auto start = std::chrono::steady_clock::now();
    list.import(csv);
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    WARN("10,000 parts imported in " << took.count() << " s");
    CHECK(took.count() < 30);
    CHECK(book::all_parts(list.b).size() == 10000);
}
