#include "book/history.h"

#include "book/clock.h"
#include "book/paths.h"
#include "book/sql_access.h"

namespace stripbook::book {

void note_change(Book& book, const std::string& who, const std::string& what, const std::string& field,
                 const std::string& before, const std::string& after, const std::string& how) {
    Query(book, "INSERT INTO history (at, who, what, field, before, after, how) VALUES (?, ?, ?, ?, ?, ?, ?)")
        .with(now_utc(), printable_name(who), what, field, before, after, printable_name(how))
        .run();
}

namespace {

std::vector<Change> changes_in(Query& query) {
    std::vector<Change> changes;
    while (query.next()) {
        changes.push_back({query.text(0), query.text(1), query.text(2), query.text(3), query.text(4),
                           query.text(5), query.text(6)});
    }
    return changes;
}

}  // namespace

std::vector<Change> history_of(const Book& book, const std::string& what) {
    Query query(book,
                "SELECT at, who, what, field, before, after, how FROM history WHERE what = ? ORDER BY id");
    query.with(what);
    return changes_in(query);
}

std::vector<Change> last_changes(const Book& book, int most) {
    Query query(
        book,
        "SELECT at, who, what, field, before, after, how FROM (SELECT * FROM history ORDER BY id DESC "
        "LIMIT ?) ORDER BY id");
    query.with(most);
    return changes_in(query);
}

}  // namespace stripbook::book
