// What is typed into a parts list or stands in a file's name never steers the terminal.
#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>

#include "made_card.h"
#include "program.h"
#include "scratch_folder.h"

using namespace stripbook::test;
using Catch::Contains;

namespace {

// An escape sequence, a carriage return, a bell, a C1 control character and a mark that turns the direction
// of writing (ECMA-48, 5.3 and 8.3; Unicode 15, 23.2).
const std::string evil = "E\x1b[31mV\rI\x07L\xc2\x9b\xe2\x80\xae";

const std::string turn = "\xe2\x80\xae";

bool steers(const std::string& text) {
    const bool control = std::any_of(text.begin(), text.end(), [](char c) {
        const auto byte = static_cast<unsigned char>(c);
        return (byte < 0x20 && byte != '\n') || byte == 0x7f;
    });
    return control || text.find("\xc2\x9b") != std::string::npos ||
           text.find("\xe2\x80\xae") != std::string::npos;
}

}  // namespace

TEST_CASE("No command lets control characters through to the terminal", "[line][terminal]") {
    const ScratchFolder scratch;
    const std::string book = (scratch / "book").string();
    REQUIRE(run_stripbook({"start", book, "--code", "PET", "--title", "Petrel"}).status == 0);
    std::ofstream(scratch / "parts.csv")
        << "tag,name,assembly,place,storage,condition,quantity,note\n417,\"Cover " << evil << "\",\"Gear "
        << evil << "\",\"Left " << evil << "\",\"Rack " << evil << "\",\"Worn " << evil << "\",2,\"Note "
        << evil << "\"\n424,Lever,\"Gear " << evil << "\",,,,,\n";
    const auto ran = [&](std::vector<std::string> words) {
        words.insert(words.end(), {"--book", book});
        const Ran done = run_stripbook(words);
        std::string command;
        for (const auto& word : words) {
            command += word + " ";
        }
        INFO(command);
        INFO(done.out);
        INFO(done.err);
        CHECK_FALSE(steers(done.out));
        CHECK_FALSE(steers(done.err));
        return done;
    };
    // Control characters are refused where text is typed; the direction mark comes in with a spreadsheet.
    const Ran refused = ran({"parts", "import", (scratch / "parts.csv").string()});
    CHECK(refused.status == 2);
    CHECK_THAT(refused.err, Contains("line 2"));
    std::ofstream(scratch / "parts.csv")
        << "tag,name,assembly,place,storage,condition,quantity,note\n417,Cover " << turn << ",Gear " << turn
        << ",Left " << turn << ",Rack " << turn << ",Worn " << turn << ",2,Note " << turn
        << "\n424,Lever,Gear " << turn << ",,,,,\n";
    REQUIRE(ran({"parts", "import", (scratch / "parts.csv").string()}).status == 0);
    const MadeCard card(scratch / ("card" + evil));
    card.tag_shot("DCIM/101AAAAA/AAAA0001.JPG", "PET-00417", "2026:03:20 09:00:00");
    card.tag_shot("DCIM/101AAAAA/A" + evil + "2.JPG", "PET-00424", "2026:03:20 09:10:00");
    card.floor("DCIM/101AAAAA/AAAA0003.JPG", "2026:05:20 09:00:00");
    card.file("DCIM/101AAAAA/NOTE" + evil + ".JPG", "no picture");
    ran({"dump", card.text(), "--second", (scratch / "second").string()});
    ran({"set", "currency", evil});
    ran({"set", "workshop", "Shop " + evil});
    ran({"set", "workshop", "Shop " + turn});
    for (const auto& text : {evil, turn}) {
        ran({"path", "417", "buy", "--why", text, "--from", text, "--price", "3"});
        ran({"path", "424", "make", "--why", text, "--drawing", text, "--material", text, "--work", text});
        ran({"hazard", "417", "heavy", "--mass", "90", "--note", text});
        ran({"inspect", "417", "--finding", "crack", "--where", text, "--how-bad", text, "--by", text});
        ran({"inspect", "417", "--reading", "bore " + text, "45.02", "--instrument", text, "--at", text,
             "--u", "0.01"});
        ran({"inspect", "417", "--limit", "bore " + text, "--at-most", "45", "--source", text});
        ran({"refit", "note", "417", "--match-marks", text});
        ran({"parts", "bag", "417", "M12 " + text, "4"});
        ran({"parts", "expect", "Spring " + text, "8", "--assembly", text, "--source", text});
        ran({"store", "417", "Shelf " + text});
        ran({"cameras", "name", "1", "Camera " + text});
    }
    for (const std::vector<std::string>& words :
         std::vector<std::vector<std::string>>{{"parts", "list"},
                                               {"parts", "show", "417"},
                                               {"parts", "missing"},
                                               {"find", "417"},
                                               {"find", "gear"},
                                               {"find", evil},
                                               {"find", "lever", "--sheet"},
                                               {"inspect", "417"},
                                               {"hazard", "417"},
                                               {"path", "417"},
                                               {"paths"},
                                               {"work", "list", "424"},
                                               {"set"},
                                               {"cameras"},
                                               {"cameras", "history", "1"},
                                               {"unsettled"},
                                               {"refit", "list"},
                                               {"refit", "next"},
                                               {"refit", "note", "417"},
                                               {"refit", "sheet", "--all"},
                                               {"report", "417"},
                                               {"report", "--job"},
                                               {"report", "--assembly", "Gear " + evil},
                                               {"wanted"},
                                               {"wanted", "--from", evil},
                                               {"history", "417"},
                                               {"history"},
                                               {"undo", "--list"},
                                               {"undo"},
                                               {"check"},
                                               {"tags", "--unprinted"},
                                               {"tags", "--runs"},
                                               {"markers", "list"},
                                               {"lens"},
                                               {"measure", "p1"},
                                               {"parts", "show", evil},
                                               {"find", "--stage", evil},
                                               {"report", evil},
                                               {"stage", "p1", evil},
                                               {"hazard", "417", evil},
                                               {"path", "417", evil},
                                               {"settle", evil, "yes"},
                                               {"link", evil, "417"},
                                               {"store", "417", "--book2", evil},
                                               {"export", (scratch / ("tables" + evil)).string()},
                                               {"parts", "merge", "417", "424"},
                                               {"tag", "list"},
                                               {"tag", "move", "417", "424", "--since", evil},
                                               {"parts", "import", (scratch / ("none" + evil)).string()},
                                               {evil}}) {
        ran(words);
    }
}
