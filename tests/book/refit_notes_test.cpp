#include "book/refit_notes.h"

#include "book/history.h"
#include "errors.h"
#include "sample_book.h"

using namespace stripbook;
using namespace stripbook::test;
using Kind = book::RefitNoteKind;

namespace {

book::RefitNote note_of(Kind kind, const std::string& words) {
    book::RefitNote note;
    note.kind = kind;
    note.words = words;
    return note;
}

book::RefitNote shim(const std::string& place, double mm) {
    book::RefitNote note = note_of(Kind::shim, "");
    note.place = place;
    note.value = mm;
    note.unit = "mm";
    return note;
}

book::RefitNote torque(double value, const std::string& unit, const std::string& source) {
    book::RefitNote note = note_of(Kind::torque, "M12 nuts");
    note.value = value;
    note.unit = unit;
    note.source = source;
    return note;
}

book::RefitNote fastener(const std::string& size, const std::string& length, int count,
                         const std::string& place) {
    book::RefitNote note = note_of(Kind::fastener, "");
    note.size = size;
    note.length = length;
    note.count = count;
    note.place = place;
    return note;
}

book::Book book_with_part(const std::filesystem::path& folder) {
    auto b = new_book(folder);
    book::save_part(b, book::Part(tag(417)), "Ana", "test");
    return b;
}

}  // namespace

TEST_CASE("Every kind of refit note is kept, numbered and told in one line", "[book]") {
    const ScratchFolder scratch;
    auto b = book_with_part(scratch / "petrel");
    book::RefitNote pin = note_of(Kind::always_new, "split pin");
    pin.size = "4 x 40";
    pin.count = 2;
    book::add_refit_notes(
        b, tag(417),
        {note_of(Kind::match_marks, "two dots at the top"), note_of(Kind::way_round, "arrow to the front"),
         shim("left horn", 0.8), note_of(Kind::setting, "3 turns from closed"),
         fastener("M12", "50", 4, "cover flange"), torque(70, "N.m", "works manual p. 12"), pin},
        "Ana");
    std::string text;
    for (const auto& note : book::refit_notes(b, tag(417))) {
        text += std::to_string(note.number) + " " + book::refit_note_kind_words(note.kind) + ": " +
                book::refit_note_words(note) + "\n";
        CHECK(note.who == "Ana");
        CHECK(note.at.size() == 20);
    }
    CHECK(text ==
          "1 match marks: two dots at the top\n2 way round: arrow to the front\n3 shim: left horn: 0.8 mm\n"
          "4 setting: 3 turns from closed\n5 fastener: 4 of M12 x 50, cover flange\n"
          "6 torque: M12 nuts: 70 N.m (works manual p. 12)\n7 always new: 2 of split pin 4 x 40\n");
    CHECK(sqlite3_of(scratch / "petrel" / "book.db",
                     "SELECT kind, words, value, unit, source FROM refit_note WHERE number = 6") ==
          "torque|M12 nuts|70.0|N.m|works manual p. 12");
}

TEST_CASE("An entry is corrected or ended, never deleted, and the history has both", "[book]") {
    const ScratchFolder scratch;
    auto b = book_with_part(scratch / "petrel");
    book::add_refit_notes(b, tag(417), {shim("left horn", 0.8), shim("right horn", 1.2)}, "Ana");
    book::correct_refit_note(b, tag(417), 1, shim("left horn", 0.9), "Ben");
    book::end_refit_note(b, tag(417), 2, "Cleo");
    book::add_refit_notes(b, tag(417), {note_of(Kind::setting, "as found")},
                          "Ana");  // no number is used again
    const auto notes = book::refit_notes(b, tag(417));
    REQUIRE(notes.size() == 2);
    CHECK(notes[0].number == 1);
    CHECK(notes[0].value == 0.9);
    CHECK(notes[0].who == "Ben");
    CHECK(notes[1].number == 3);
    CHECK(sqlite3_of(scratch / "petrel" / "book.db",
                     "SELECT number, value, ended_by FROM refit_note WHERE kind = 'shim' ORDER BY id") ==
          "1|0.8|Ben\n2|1.2|Cleo\n1|0.9|");
    std::string told;
    for (const auto& change : book::history_of(b, tag(417).text())) {
        told += change.field + " [" + change.before + "] [" + change.after + "]\n";
    }
    CHECK_THAT(told, Catch::Contains("shim (refit note 1) [left horn: 0.8 mm] [left horn: 0.9 mm]") &&
                         Catch::Contains("shim (refit note 2) [right horn: 1.2 mm] []"));
    CHECK_THAT(message_of<WrongUse>([&] { book::end_refit_note(b, tag(417), 2, "Ana"); }),
               Catch::Contains("no refit note 2"));
    CHECK_THAT(
        message_of<WrongUse>([&] { book::correct_refit_note(b, tag(417), 3, shim("left horn", 1), "Ana"); }),
        Catch::Contains("of the kind \"setting\""));
}

TEST_CASE("An entry that lacks what it needs or has what it does not is refused, and the rest with it",
          "[book]") {
    const ScratchFolder scratch;
    auto b = book_with_part(scratch / "petrel");
    const auto refusal = [&](const book::RefitNote& note) {
        return message_of<WrongUse>([&] {
            book::add_refit_notes(b, tag(417), {note_of(Kind::setting, "fine"), note}, "Ana");
        });
    };
    CHECK_THAT(refusal(torque(70, "N.m", "")), Catch::Contains("PET-00417-D") && Catch::Contains("--source"));
    CHECK_THAT(refusal(torque(70, "kgf.m", "manual")), Catch::Contains("N.m"));
    CHECK_THAT(refusal(torque(0, "N.m", "manual")), Catch::Contains("above zero"));
    CHECK_THAT(refusal(shim("", 0.8)), Catch::Contains("where the shim sits"));
    CHECK_THAT(refusal(shim("left", -0.8)), Catch::Contains("thickness above zero"));
    CHECK_THAT(refusal(fastener("", "50", 4, "")), Catch::Contains("size"));
    CHECK_THAT(refusal(fastener("M12", "50", 0, "")), Catch::Contains("a count is 1 to"));
    CHECK_THAT(refusal(note_of(Kind::way_round, "")), Catch::Contains("words are missing"));
    CHECK_THAT(refusal(note_of(Kind::setting, "bell\x07")), Catch::Contains("control"));
    auto strange = note_of(Kind::match_marks, "dots");
    strange.count = 2;
    CHECK_THAT(refusal(strange), Catch::Contains("a count does not belong to it"));
    CHECK(book::refit_notes(b, tag(417)).empty());
    CHECK_THAT(message_of<WrongUse>(
                   [&] { book::add_refit_notes(b, tag(9), {note_of(Kind::setting, "fine")}, "Ana"); }),
               Catch::Contains("no part PET-00009"));
}
