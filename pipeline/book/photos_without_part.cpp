#include "book/photos_without_part.h"

#include <fmt/format.h>

#include <vector>

#include "book/clock.h"
#include "book/history.h"
#include "book/links.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* words_for_it = "no part";
constexpr const char* how = "a person's word";

bool was_said(const Book& book, PhotoNumber photo) {
    return Query(book, "SELECT 1 FROM photo_without_part WHERE photo = ?").with(photo.value).next();
}

}  // namespace

std::set<PhotoNumber> photos_without_part(const Book& book) {
    std::set<PhotoNumber> photos;
    Query query(book, "SELECT photo FROM photo_without_part");
    while (query.next()) {
        photos.insert({query.whole(0)});
    }
    return photos;
}

void say_without_part(Book& book, PhotoNumber photo, const std::string& who) {
    book.together([&] {
        if (!Query(book, "SELECT 1 FROM photo WHERE number = ?").with(photo.value).next()) {
            throw WrongUse(fmt::format("the book has no photo {}", photo.text()));
        }
        if (was_said(book, photo)) {
            return;
        }
        Query linked(book, "SELECT tag FROM person_word WHERE photo = ? AND belongs = 1");
        linked.with(photo.value);
        std::vector<number::TagNumber> tags;
        while (linked.next()) {
            tags.push_back(tag_from_stored(linked.text(0)));
        }
        for (const auto& tag : tags) {
            take_back_link(book, photo, tag, who);
        }
        Query(book, "INSERT INTO photo_without_part VALUES (?, ?, ?)")
            .with(photo.value, printable_name(who), now_utc())
            .run();
        note_change(book, who, photo.text(), "link", "", words_for_it, how);
    });
}

void take_back_without_part(Book& book, PhotoNumber photo, const std::string& who) {
    book.together([&] {
        if (!was_said(book, photo)) {
            return;
        }
        Query(book, "DELETE FROM photo_without_part WHERE photo = ?").with(photo.value).run();
        note_change(book, who, photo.text(), "link", words_for_it, "", how);
    });
}

}  // namespace stripbook::book
