#include "book/act_recording.h"

#include <algorithm>
#include <array>

#include "book/changeset.h"
#include "book/clock.h"
#include "book/paths.h"
#include "book/settings.h"
#include "book/sql_access.h"

namespace stripbook::book {

namespace {

constexpr std::array left_out{"act",
                              "history",
                              "book",
                              "dump",
                              "original",
                              "card_file",
                              "second_copy",
                              "sighting",
                              "photo_signature",
                              "unsettled",
                              "clock_piece",
                              "unsettled_group",
                              "sighting_corner",
                              "true_time",
                              "print_run",
                              "unsettled_group_photo",
                              "lens_profile",
                              "printed_tag",
                              "program_link",
                              "unsettled_group_suggestion"};

std::int64_t number_of(const Book& book, const std::string& sql) {
    Query query(book, sql);
    query.next();
    return query.whole(0);
}

std::int64_t last_change(const Book& book) {
    return number_of(book, "SELECT coalesce(max(id), 0) FROM history");
}

// Who the act's own entries of the history name.
std::string who_did(const Book& book, std::int64_t after_change) {
    Query query(book, "SELECT who FROM history WHERE id > ? AND who <> 'stripbook' ORDER BY id LIMIT 1");
    query.with(after_change);
    return query.next() ? query.text(0) : who_is_working(book);
}

void forget_old_acts(Book& book) {
    Query(
        book,
        "DELETE FROM act WHERE id IN (SELECT id FROM (SELECT id, row_number() OVER newer_first AS place, "
        "sum(length(changeset)) OVER newer_first AS bytes FROM act WINDOW newer_first AS (ORDER BY id DESC)) "
        "WHERE place > ? OR (place > 1 AND bytes > ?))")
        .with(most_acts, most_acts_bytes)
        .run();
}

}  // namespace

bool is_of_people(const std::string& table) {
    return table.rfind("word_index", 0) != 0 && table.rfind("sqlite_", 0) != 0 &&
           std::find(left_out.begin(), left_out.end(), table) == left_out.end();
}

struct ActRecording::Inside {
    Book& book;
    std::int64_t before = 0;  // the last change
    Session session;
};

ActRecording::ActRecording(Book& book) : inside_(new Inside{book, last_change(book), Session(book)}) {}

ActRecording::~ActRecording() = default;

std::int64_t ActRecording::keep(std::int64_t id, const std::string& command) {
    Book& book = inside_->book;
    std::string changes = inside_->session.changeset();
    if (changes.empty()) {
        return id;
    }
    if (id != 0) {
        Query earlier(book, "SELECT changeset FROM act WHERE id = ?");
        if (earlier.with(id).next()) {
            changes = joined(book, earlier.text(0), changes);
        }
        Query(book, "UPDATE act SET last_change = ?, changeset = ? WHERE id = ?")
            .with(last_change(book), RawBytes{changes}, id)
            .run();
        return id;
    }
    Query(
        book,
        "INSERT INTO act (at, who, command, first_change, last_change, last_dump, last_print_run, changeset) "
        "VALUES (?, ?, ?, ?, ?, (SELECT coalesce(max(id), 0) FROM dump), "
        "(SELECT coalesce(max(id), 0) FROM print_run), ?)")
        .with(now_utc(), who_did(book, inside_->before), printable_name(command), inside_->before + 1,
              last_change(book), RawBytes{changes})
        .run();
    const std::int64_t made = last_row_number(book);
    forget_old_acts(book);
    return made;
}

}  // namespace stripbook::book
