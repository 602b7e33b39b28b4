#include "book/originals.h"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

#include "book/clock.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* select_originals = "SELECT id, sha256, bytes, stored_path, kind FROM original ";

Original original_of_row(Query& row) {
    return {{row.whole(0)},
            row.text(1),
            static_cast<std::uint64_t>(row.whole(2)),
            row.text(3),
            kind_from_stored(row.text(4))};
}

void check_sha256(const std::string& sha256) {
    constexpr std::size_t digits = 64;
    if (sha256.size() != digits || sha256.find_first_not_of("0123456789abcdef") != std::string::npos) {
        throw BookError(
            fmt::format("\"{}\" is not a SHA-256 sum: a fault of the program, nothing was taken in",
                        printable_name(sha256)));
    }
}

void check_stored_path(const std::string& stored_path) {
    const std::filesystem::path path(stored_path);
    const bool goes_up = std::find(path.begin(), path.end(), "..") != path.end();
    if (stored_path.empty() || path.is_absolute() || goes_up || first_wrong_byte(stored_path)) {
        throw BookError(
            fmt::format("\"{}\" is no path inside the book folder: a fault of the program, nothing was "
                        "taken in",
                        printable_name(stored_path)));
    }
}

void check_is_new(const Book& book, const std::string& sha256, const std::string& stored_path) {
    if (const auto known = find_original(book, sha256)) {
        throw BookError(fmt::format("the book has these bytes already as {}; nothing was taken in",
                                    printable_name(known->stored_path)));
    }
    if (stored_path_in_use(book, stored_path)) {
        throw BookError(fmt::format("the book has another file as {}; nothing was taken in",
                                    printable_name(stored_path)));
    }
}

std::int64_t add_card_file(Book& book, DumpId dump, const CardFile& file, OriginalId original) {
    Query(book,
          "INSERT INTO card_file (dump, original, name, name_words, bytes, modified_s) VALUES (?, ?, ?, ?, "
          "?, ?)")
        .with(dump.value, original.value, RawBytes{file.name_on_card}, printable_name(file.name_on_card),
              file.bytes, file.modified_seconds)
        .run();
    return last_row_number(book);
}

void add_photo(Book& book, const CardFile& file, OriginalId original, std::int64_t card_file) {
    Query(book,
          "INSERT INTO photo (original, card_file, time_s, time_text, time_utc_offset, time_source, "
          "dcf_directory, "
          "dcf_counter) VALUES (?, ?, ?, ?, '', 'file time', ?, ?)")
        .with(original.value, card_file, file.modified_seconds,
              time_words(file.modified_seconds).value_or(""), file.dcf_directory, file.dcf_counter)
        .run();
}

// A file time that no calendar holds (a broken card) counts as 1970.
CardFile with_sane_time(CardFile file) {
    if (!time_words(file.modified_seconds)) {
        file.modified_seconds = 0;
    }
    return file;
}

}  // namespace

DumpId begin_dump(Book& book, const std::string& card, const std::string& who) {
    Query(book, "INSERT INTO dump (card, card_words, began_at, outcome, who) VALUES (?, ?, ?, '', ?)")
        .with(RawBytes{card}, printable_name(card), now_utc(), printable_name(who))
        .run();
    return {last_row_number(book)};
}

void end_dump(Book& book, DumpId dump, const std::string& outcome) {
    const int ended = Query(book, "UPDATE dump SET ended_at = ?, outcome = ? WHERE id = ?")
                          .with(now_utc(), printable_name(outcome), dump.value)
                          .run();
    if (ended == 0) {
        throw BookError(fmt::format("the book has no dump {}: a fault of the program", dump.value));
    }
}

std::optional<Original> find_original(const Book& book, const std::string& sha256) {
    Query query(book, std::string(select_originals) + "WHERE sha256 = ?");
    query.with(sha256);
    return query.next() ? std::optional(original_of_row(query)) : std::nullopt;
}

std::vector<Original> all_originals(const Book& book) {
    Query query(book, std::string(select_originals) + "ORDER BY id");
    std::vector<Original> originals;
    while (query.next()) {
        originals.push_back(original_of_row(query));
    }
    return originals;
}

Original add_original(Book& book, DumpId dump, const CardFile& file, const std::string& sha256, FileKind kind,
                      const std::string& stored_path) {
    check_sha256(sha256);
    check_stored_path(stored_path);
    const CardFile sane = with_sane_time(file);
    Original original{{}, sha256, file.bytes, stored_path, kind};
    book.together([&] {
        check_is_new(book, sha256, stored_path);
        Query(book, "INSERT INTO original (sha256, bytes, stored_path, kind) VALUES (?, ?, ?, ?)")
            .with(sha256, file.bytes, stored_path, stored_kind(kind))
            .run();
        original.id = {last_row_number(book)};
        const std::int64_t card_file = add_card_file(book, dump, sane, original.id);
        if (kind != FileKind::other) {
            add_photo(book, sane, original.id, card_file);
        }
    });
    return original;
}

bool stored_path_in_use(const Book& book, const std::string& stored_path) {
    return Query(book, "SELECT 1 FROM original WHERE stored_path = ?").with(stored_path).next();
}

void add_seen_again(Book& book, DumpId dump, const CardFile& file, OriginalId original) {
    add_card_file(book, dump, with_sane_time(file), original);
}

void add_second_copy(Book& book, OriginalId original, const std::string& second_folder) {
    Query(book, "INSERT INTO second_copy VALUES (?, ?, ?) ON CONFLICT DO NOTHING")
        .with(original.value, RawBytes{second_folder}, now_utc())
        .run();
}

bool has_second_copy(const Book& book, OriginalId original, const std::string& second_folder) {
    return Query(book, "SELECT 1 FROM second_copy WHERE original = ? AND folder = ?")
        .with(original.value, RawBytes{second_folder})
        .next();
}

std::int64_t originals_without_second_copy(const Book& book) {
    Query query(book,
                "SELECT count(*) FROM original WHERE NOT EXISTS "
                "(SELECT 1 FROM second_copy WHERE second_copy.original = original.id)");
    query.next();
    return query.whole(0);
}

}  // namespace stripbook::book
