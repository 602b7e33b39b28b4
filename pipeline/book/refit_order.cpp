#include "book/refit_order.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <tuple>

#include "book/clock.h"
#include "book/history.h"
#include "book/links.h"
#include "book/parts.h"
#include "book/photos.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "errors.h"

namespace stripbook::book {

namespace {

using number::TagNumber;

std::set<PhotoNumber> photos_on_bench(const Book& book) {
    std::set<PhotoNumber> photos;
    Query query(book, "SELECT DISTINCT photo FROM sighting WHERE kind = ? AND confirmed = 1");
    query.with(stored_sighting_kind(SightingKind::scale_marker));
    while (query.next()) {
        photos.insert(PhotoNumber{query.whole(0)});
    }
    return photos;
}

// `photos` in the order they were taken. The rule is that of gather_part: a person's word first, else
// as-removed is what was taken before the first bench shot.
const Photo* first_as_removed(const std::vector<const Photo*>& photos,
                              const std::set<PhotoNumber>& on_bench) {
    bool been_on_bench = false;
    for (const auto* photo : photos) {
        been_on_bench = been_on_bench || on_bench.contains(photo->number);
        const bool as_removed =
            photo->stage_by_person ? *photo->stage_by_person == stage_words[0] : !been_on_bench;
        if (as_removed) {
            return photo;
        }
    }
    return nullptr;
}

void check_has_part(const Book& book, const TagNumber& tag) {
    if (!find_part(book, tag)) {
        throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
    }
}

void check_two_parts(const Book& book, const TagNumber& one, const TagNumber& other) {
    check_has_part(book, one);
    check_has_part(book, other);
    if (one == other) {
        throw WrongUse(fmt::format("{} is named twice: name two parts", one.text()));
    }
}

RefitWord word_of_row(Query& row) {
    return {row.text(0) == "together" ? RefitWordKind::together : RefitWordKind::before,
            tag_from_stored(row.text(1)), tag_from_stored(row.text(2)), row.text(3), row.text(4)};
}

std::string stored_word_kind(RefitWordKind kind) {
    return kind == RefitWordKind::together ? "together" : "before";
}

// What one word means to each of its two parts.
std::string meaning_for_first(const RefitWord& word) {
    return fmt::format("goes in {} {}", refit_word_words(word.kind), word.second.text());
}
std::string meaning_for_second(const RefitWord& word) {
    return fmt::format("goes in {} {}", word.kind == RefitWordKind::together ? "together with" : "after",
                       word.first.text());
}

void note_word(Book& book, const RefitWord& word, bool said, const std::string& who) {
    const auto note = [&](const TagNumber& tag, const std::string& meaning) {
        note_change(book, who, tag.text(), "refit order", said ? "" : meaning, said ? meaning : "",
                    said ? "refit " + stored_word_kind(word.kind) : "refit forget");
    };
    note(word.first, meaning_for_first(word));
    note(word.second, meaning_for_second(word));
}

void add_word(Book& book, RefitWordKind kind, const TagNumber& first, const TagNumber& second,
              const std::string& who) {
    const RefitWord word{kind, first, second, now_utc(), who};
    const int added =
        Query(book, "INSERT OR IGNORE INTO refit_word (kind, first, second, at, who) VALUES (?, ?, ?, ?, ?)")
            .with(stored_word_kind(kind), first.text(), second.text(), word.at, who)
            .run();
    if (added > 0) {
        note_word(book, word, true, who);
    }
}

}  // namespace

std::vector<Removal> removals(const Book& book) {
    const auto photos = all_photos(book);
    const auto on_bench = photos_on_bench(book);
    std::map<std::int64_t, const Photo*> photo_by_number;
    for (const auto& photo : photos) {
        photo_by_number.emplace(photo.number.value, &photo);
    }
    std::map<TagNumber, std::vector<const Photo*>> photos_of;
    for (const auto& link : all_links(book)) {
        photos_of[link.tag].push_back(photo_by_number.at(link.photo.value));
    }
    std::vector<Removal> all;
    for (const auto& part : all_parts(book)) {
        auto& own = photos_of[part.tag];
        std::sort(own.begin(), own.end(), [](const Photo* a, const Photo* b) {
            return std::tuple(a->corrected_seconds, a->number) < std::tuple(b->corrected_seconds, b->number);
        });
        Removal removal{part.tag, std::nullopt, {}};
        if (const auto* first = first_as_removed(own, on_bench)) {
            removal.seconds = first->corrected_seconds;
            removal.photo = first->number;
        }
        all.push_back(removal);
    }
    return all;
}

const char* refit_word_words(RefitWordKind kind) {
    return kind == RefitWordKind::together ? "together with" : "before";
}

std::vector<RefitWord> refit_words(const Book& book) {
    std::vector<RefitWord> words;
    Query query(book, "SELECT kind, first, second, at, who FROM refit_word ORDER BY id");
    while (query.next()) {
        words.push_back(word_of_row(query));
    }
    return words;
}

void say_before(Book& book, const TagNumber& first, const TagNumber& second, const std::string& who) {
    book.together([&] {
        check_two_parts(book, first, second);
        add_word(book, RefitWordKind::before, first, second, who);
    });
}

void say_together(Book& book, const std::vector<TagNumber>& tags, const std::string& who) {
    if (tags.size() < 2) {
        throw WrongUse("name the parts that go in as one step, at least two");
    }
    book.together([&] {
        for (std::size_t i = 1; i < tags.size(); ++i) {
            check_two_parts(book, tags[i - 1], tags[i]);
            const auto [lower, higher] = std::minmax(tags[i - 1], tags[i]);
            add_word(book, RefitWordKind::together, lower, higher, who);
        }
    });
}

std::vector<RefitWord> forget_words(Book& book, const TagNumber& one, const TagNumber& other,
                                    const std::string& who) {
    std::vector<RefitWord> forgotten;
    book.together([&] {
        check_two_parts(book, one, other);
        Query query(book,
                    "SELECT kind, first, second, at, who FROM refit_word WHERE (first = ?1 AND second = ?2) "
                    "OR (first = ?2 AND second = ?1) ORDER BY id");
        query.with(one.text(), other.text());
        while (query.next()) {
            forgotten.push_back(word_of_row(query));
        }
        if (forgotten.empty()) {
            throw WrongUse(fmt::format(
                "nobody said anything about {} and {}: see what was said with stripbook refit list",
                one.text(), other.text()));
        }
        for (const auto& word : forgotten) {
            Query(book, "DELETE FROM refit_word WHERE kind = ? AND first = ? AND second = ?")
                .with(stored_word_kind(word.kind), word.first.text(), word.second.text())
                .run();
            note_word(book, word, false, who);
        }
    });
    return forgotten;
}

std::vector<Refitted> refitted_parts(const Book& book) {
    std::vector<Refitted> parts;
    Query query(book, "SELECT tag, at, who FROM refitted ORDER BY tag");
    while (query.next()) {
        parts.push_back({tag_from_stored(query.text(0)), query.text(1), query.text(2)});
    }
    return parts;
}

std::vector<TagNumber> set_refitted(Book& book, const std::vector<TagNumber>& tags, bool in_place,
                                    const std::string& who) {
    std::vector<TagNumber> changed;
    const std::string stage = stage_words.back();
    book.together([&] {
        for (const auto& tag : tags) {
            check_has_part(book, tag);
            const int rows = in_place
                                 ? Query(book, "INSERT OR IGNORE INTO refitted VALUES (?, ?, ?)")
                                       .with(tag.text(), now_utc(), who)
                                       .run()
                                 : Query(book, "DELETE FROM refitted WHERE tag = ?").with(tag.text()).run();
            if (rows > 0) {
                note_change(book, who, tag.text(), "stage", in_place ? "" : stage, in_place ? stage : "",
                            in_place ? "refit done" : "refit done --undo");
                changed.push_back(tag);
            }
        }
    });
    return changed;
}

}  // namespace stripbook::book
