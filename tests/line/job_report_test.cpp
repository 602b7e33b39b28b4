// One PDF of the whole job or of an assembly, as the office asks for it.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;
using nlohmann::json;

namespace {

struct JobBook {
    JobBook() : card(scratch / "card") {
        REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
        std::ofstream(scratch / "parts.csv") << "tag,name,assembly,storage,quantity\n"
                                                "417,Axlebox cover,Running gear / Axle 1,Rack B,2\n"
                                                "424,Brake pull lever,Brake,Rack B,\n"
                                                "431,Axlebox,Running gear / Axle 2,Rack B,\n";
        REQUIRE(ran({"parts", "import", (scratch / "parts.csv").string()}).status == 0);
        card.tag_shot("DCIM/101AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
        card.floor("DCIM/101AAAAA/AAAA0002.JPG", "2026:03:20 09:00:10");
        card.tag_shot("DCIM/101AAAAA/AAAA0003.JPG", "PET-00424", "2026:03:20 09:10:00");
        card.floor("DCIM/101AAAAA/AAAA0004.JPG", "2026:03:20 09:10:10");
        REQUIRE(ran({"dump", card.text()}).status == 0);
    }
    [[nodiscard]] Ran ran(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return run_stripbook(words);
    }
    [[nodiscard]] json answer(std::vector<std::string> words) const {
        words.insert(words.end(), {"--book", book});
        return stripbook_json(words).at("reports").at(0);
    }
    [[nodiscard]] std::string words_of(const std::string& name) const {
        const Ran words = run({"pdftotext", "-layout", book + "/reports/" + name, "-"});
        REQUIRE(words.status == 0);
        return words.out;
    }
    ScratchFolder scratch;
    std::string book = (scratch / "book").string();
    MadeCard card;
};

}  // namespace

TEST_CASE("The whole job, an assembly and a donor's copy are PDFs of their own", "[line][report]") {
    const JobBook b;
    const Ran whole = b.ran({"report", "--job", "--date", "2026-11-25"});
    CHECK(whole.status == 0);
    CHECK_THAT(whole.out, Contains("job.pdf: ") && Contains("4 photos"));
    CHECK(b.ran({"report", "--job", "--for", "donor", "--date", "2026-11-25"}).status == 0);
    CHECK(b.ran({"report", "--assembly", "running gear", "--date", "2026-11-25"}).status == 0);
    CHECK_THAT(b.words_of("job.pdf"), Contains("Condition report of the whole job") &&
                                          Contains("Axlebox cover") && Contains("Brake pull lever") &&
                                          Contains("1 missing") && Contains("Rack B"));
    CHECK_THAT(b.words_of("job-donor.pdf"), Contains("Axlebox cover") && !Contains("Rack B"));
    CHECK_THAT(b.words_of("assembly-running-gear.pdf"),
               Contains("Axlebox cover") && !Contains("Brake pull lever"));
}

TEST_CASE("The answer for programs says what was written and whether it is PDF/A", "[line][report]") {
    const JobBook b;
    const json report = b.answer({"report", "--job", "--date", "2026-11-25"});
    CHECK(report.at("photos") == 4);
    CHECK(report.at("pdf_a") == true);
    CHECK(report.at("why_not_pdf_a") == "");
    const Ran info = run({"pdfinfo", report.at("file").get<std::string>()});
    CHECK_THAT(info.out, Contains("Pages:") && Contains(std::to_string(report.at("pages").get<int>())));
    std::ofstream(b.scratch / "more.csv") << "tag,name\n424,Рычаг тормоза\n";
    REQUIRE(b.ran({"parts", "import", (b.scratch / "more.csv").string()}).status == 0);
    const Ran told = b.ran({"report", "--job", "--date", "2026-11-25"});
    CHECK_THAT(told.out, Contains("not PDF/A"));
    CHECK(b.answer({"report", "--job", "--date", "2026-11-25"}).at("pdf_a") == false);
}

TEST_CASE("A report fits into a mail where that can be done, else it says so", "[line][report]") {
    const JobBook b;
    const auto size = [&b] { return std::filesystem::file_size(b.book + "/reports/job.pdf"); };
    REQUIRE(b.ran({"report", "--job", "--date", "2026-11-25"}).status == 0);
    const auto full = size();
    const auto most = full * 85 / 100;
    REQUIRE(b.ran({"report", "--job", "--date", "2026-11-25", "--max-size", std::to_string(most)}).status ==
            0);
    CHECK(size() <= most);
    const Ran refused = b.ran({"report", "--job", "--date", "2026-11-25", "--max-size", "10KB"});
    CHECK(refused.status == 1);
    CHECK_THAT(refused.out, Contains("cannot be made smaller"));
}

TEST_CASE("What cannot be reported is refused in one line", "[line][report]") {
    const JobBook b;
    const auto refused = [&b](std::vector<std::string> words, const std::string& why) {
        const Ran said = b.ran(std::move(words));
        INFO(said.err);
        CHECK(said.status == 2);
        CHECK_THAT(said.err, Contains(why));
    };
    refused({"report", "--job", "417"}, "one report at a time");
    refused({"report", "--job", "--assembly", "Brake"}, "one report at a time");
    refused({"report", "--assembly", "Bodywork"}, "no part lies in the assembly");
    refused({"report", "--job", "--cover", "p99"}, "no photo p99");
    refused({"report", "--job", "--max-size", "little"}, "little");
}

TEST_CASE("The title page carries the photo that was asked for, the right way up", "[line][report]") {
    const JobBook b;
    REQUIRE(b.ran({"report", "--job", "--cover", "p4", "--date", "2026-11-25"}).status == 0);
    const std::string pdf = b.book + "/reports/job.pdf";
    CHECK_THAT(run({"pdftotext", "-l", "1", pdf, "-"}).out, Contains("p4"));
    CHECK_THAT(run({"pdfimages", "-list", "-l", "1", pdf}).out, Contains("jpeg"));
}
