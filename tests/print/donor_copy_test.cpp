#include "print/donor_copy.h"

#include <catch2/catch.hpp>

#include "book/originals.h"
#include "book/part_file.h"
#include "book/part_path.h"
#include "book/parts.h"
#include "book/settings.h"
#include "print/condition_report.h"
#include "print/outside_tools.h"
#include "print/sample_part.h"
#include "scratch_folder.h"

using namespace stripbook;

namespace {

// Everything a reader can get out of the PDF: its words as poppler sees them, and its document facts and
// bookmarks as qpdf unpacks them.
std::string all_of(const std::filesystem::path& pdf) {
    const auto facts = test::run_tool({"pdfinfo", pdf.string()});
    const auto objects = test::run_tool({"qpdf", "--json", pdf.string()});
    REQUIRE(facts.status == 0);
    REQUIRE(objects.status == 0);
    return test::words_of(pdf) + facts.output + objects.output;
}

// A part whose record holds something of every kind that is no donor's business.
class TalkativeBook {
  public:
    TalkativeBook()
        : book_(book::Book::start(folder / "Petrel", sample_.tag.book(), "Petrel, inspection railcar",
                                  "Anatolia")) {
        book::set_setting(book_, "currency", "GBP", "Anatolia");
        const number::TagNumber parent(sample_.tag.book(), 400);
        book::save_part(book_, book::Part(parent), "Anatolia", "test");
        sample_.parent = parent;
        book::save_part(book_, sample_, "Anatolia", "test");
        book::PathChange change;
        change.path = "buy";
        change.why = "worn past the limit";
        change.price_cents = 123456;
        change.by = "Benedikta";
        book::change_path(book_, sample_.tag, change, "Anatolia");
        const auto work = book::add_work(book_, sample_.tag, "bush and ream", 37, "Anatolia");
        book::end_work(book_, sample_.tag, work, {"2026-11-25", "Cornelius", 41, ""}, "Anatolia");
        book::Finding finding;
        finding.entry.by = "Dorothea";
        finding.entry.on = "2026-11-24";
        finding.kind = "crack";
        finding.where = "lower lug";
        finding.how_bad = "through";
        book::add_finding(book_, sample_.tag, finding, "Anatolia");
        book::GaugeReading reading;
        reading.entry.by = "Eleonora";
        reading.entry.on = "2026-11-24";
        reading.feature = "bore";
        reading.value_mm = 45.02;
        reading.typed = "45.02 mm";
        book::add_reading(book_, sample_.tag, reading, "Anatolia");
    }

    [[nodiscard]] std::string report(bool for_donor, bool with_costs) const {
        print::ReportOptions options;
        options.date = "2026-11-25";
        options.version = "0.1.0";
        options.for_donor = for_donor;
        options.with_costs = with_costs;
        const auto pdf = folder / "report.pdf";
        static_cast<void>(
            print::write_condition_report(book_, book::gather_part(book_, sample_.tag), pdf, options));
        return all_of(pdf);
    }

    test::ScratchFolder folder;

  private:
    book::Part sample_ = test::sample_part();
    book::Book book_;
};

const std::vector<std::string> never_told{"Anatolia",  "Benedikta", "Cornelius", "Dorothea",  "Eleonora",
                                          "PET-00400", "Rack B",    "Storage",   "FV-1043-2", "History"};
const std::vector<std::string> costs{"1234.56", "37 h", "41 h"};

}  // namespace

TEST_CASE("A donor's report tells the work, and nothing of the workshop's own affairs", "[print]") {
    const TalkativeBook book;
    const std::string own = book.report(false, false);
    const std::string donor = book.report(true, false);
    for (const auto& word : never_told) {
        INFO(word);
        CHECK(own.find(word) != std::string::npos);
        CHECK(donor.find(word) == std::string::npos);
    }
    for (const auto& word : costs) {
        INFO(word);
        CHECK(own.find(word) != std::string::npos);
        CHECK(donor.find(word) == std::string::npos);
    }
    CHECK_THAT(donor, Catch::Contains("worn past the limit") && Catch::Contains("bush and ream") &&
                          Catch::Contains("lower lug") && Catch::Contains("45.02 mm") &&
                          Catch::Contains("Bogie 1 / axle 1 / left"));
}

TEST_CASE("A donor is shown prices and hours only where that is asked for", "[print]") {
    const TalkativeBook book;
    const std::string donor = book.report(true, true);
    for (const auto& word : costs) {
        INFO(word);
        CHECK(donor.find(word) != std::string::npos);
    }
    for (const auto& word : never_told) {
        INFO(word);
        CHECK(donor.find(word) == std::string::npos);
    }
}
