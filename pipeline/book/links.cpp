#include "book/links.h"

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <utility>

#include "book/clock.h"
#include "book/history.h"
#include "book/paths.h"
#include "book/photos_without_part.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* program = "stripbook";

constexpr const char* select_links =
    "SELECT photo, tag, why, sure, by_person FROM ("
    "SELECT photo, tag, why, sure, 0 AS by_person FROM program_link WHERE NOT EXISTS (SELECT 1 FROM "
    "person_word AS w "
    "WHERE w.photo = program_link.photo AND w.tag = program_link.tag) "
    "UNION ALL SELECT photo, tag, 'said by ' || who, 1.0, 1 FROM person_word WHERE belongs = 1) ";

Link link_of_row(Query& row) {
    return {{row.whole(0)}, tag_from_stored(row.text(1)), row.text(2), row.real(3), row.yes(4)};
}

std::vector<Link> links_of_query(Query& query) {
    std::vector<Link> links;
    while (query.next()) {
        links.push_back(link_of_row(query));
    }
    return links;
}

using PhotoAndTag = std::pair<std::int64_t, std::string>;

struct Reason {
    std::string why;
    double sure = 0;
    bool operator==(const Reason&) const = default;
};

using Reasons = std::map<PhotoAndTag, Reason>;

// Of two links from one photo to one part the surer stays.
Reasons wanted_reasons(const std::vector<Link>& links) {
    Reasons reasons;
    for (const auto& link : links) {
        if (!std::isfinite(link.sure)) {
            throw BookError(
                fmt::format("{} to {}: how sure the link is, is not a number: a fault of the program",
                            link.photo.text(), link.tag.text()));
        }
        const Reason reason{printable_name(link.why), link.sure};
        const auto [known, is_new] = reasons.emplace(PhotoAndTag{link.photo.value, link.tag.text()}, reason);
        if (!is_new && known->second.sure < reason.sure) {
            known->second = reason;
        }
    }
    return reasons;
}

Reasons kept_reasons(const Book& book) {
    Query query(book, "SELECT photo, tag, why, sure FROM program_link");
    Reasons reasons;
    while (query.next()) {
        reasons[{query.whole(0), query.text(1)}] = {query.text(2), query.real(3)};
    }
    return reasons;
}

void remove_link(Book& book, const PhotoAndTag& which) {
    Query(book, "DELETE FROM program_link WHERE photo = ? AND tag = ?").with(which.first, which.second).run();
    note_change(book, program, PhotoNumber{which.first}.text(), "link", which.second, "",
                "linking the photos anew");
}

void check_both_exist(const Book& book, const PhotoAndTag& which) {
    const auto& [photo, tag] = which;
    if (!Query(book, "SELECT 1 FROM part WHERE tag = ?").with(tag).next()) {
        throw BookError(fmt::format("{} cannot be linked to {}: the book has no such part",
                                    PhotoNumber{photo}.text(), printable_name(tag)));
    }
    if (!Query(book, "SELECT 1 FROM photo WHERE number = ?").with(photo).next()) {
        throw BookError(fmt::format("{} cannot be linked to {}: the book has no such photo",
                                    PhotoNumber{photo}.text(), printable_name(tag)));
    }
}

void add_link(Book& book, const PhotoAndTag& which, const Reason& reason) {
    check_both_exist(book, which);
    Query(book, "INSERT INTO program_link VALUES (?, ?, ?, ?)")
        .with(which.first, which.second, reason.why, reason.sure)
        .run();
    note_change(book, program, PhotoNumber{which.first}.text(), "link", "", which.second, reason.why);
}

void change_reason(Book& book, const PhotoAndTag& which, const Reason& reason) {
    Query(book, "UPDATE program_link SET why = ?, sure = ? WHERE photo = ? AND tag = ?")
        .with(reason.why, reason.sure, which.first, which.second)
        .run();
}

void replace_links(Book& book, const Reasons& wanted) {
    const Reasons kept = kept_reasons(book);
    for (const auto& [which, reason] : kept) {
        if (wanted.count(which) == 0) {
            remove_link(book, which);
        }
    }
    for (const auto& [which, reason] : wanted) {
        const auto known = kept.find(which);
        if (known == kept.end()) {
            add_link(book, which, reason);
        } else if (known->second != reason) {
            change_reason(book, which, reason);
        }
    }
}

struct Question {
    std::string why;
    std::string suggestions;
    bool operator==(const Question&) const = default;
};

Question question_of(const Unsettled& unsettled) {
    std::vector<std::string> tags;
    for (const auto& tag : unsettled.suggestions) {
        tags.push_back(tag.text());
    }
    return {printable_name(unsettled.why), stored_list(tags)};
}

void replace_unsettled(Book& book, const std::vector<Unsettled>& unsettled) {
    std::map<std::int64_t, Question> wanted;
    for (const auto& u : unsettled) {
        wanted[u.photo.value] = question_of(u);
    }
    std::map<std::int64_t, Question> kept;
    Query query(book, "SELECT photo, why, suggestions FROM unsettled");
    while (query.next()) {
        kept[query.whole(0)] = {query.text(1), query.text(2)};
    }
    for (const auto& [photo, question] : kept) {
        if (wanted.count(photo) == 0) {
            Query(book, "DELETE FROM unsettled WHERE photo = ?").with(photo).run();
        }
    }
    for (const auto& [photo, question] : wanted) {
        const auto known = kept.find(photo);
        if (known == kept.end() || known->second != question) {
            Query(book, "INSERT OR REPLACE INTO unsettled VALUES (?, ?, ?)")
                .with(photo, question.why, question.suggestions)
                .run();
        }
    }
}

enum class Word { none, belongs, refused };

Word word_on(const Book& book, const PhotoAndTag& which) {
    Query query(book, "SELECT belongs FROM person_word WHERE photo = ? AND tag = ?");
    query.with(which.first, which.second);
    if (!query.next()) {
        return Word::none;
    }
    return query.yes(0) ? Word::belongs : Word::refused;
}

std::string words_for(Word word, const std::string& tag) {
    switch (word) {
        case Word::belongs:
            return tag;
        case Word::refused:
            return "not " + tag;
        default:
            return "";
    }
}

void check_typed_pair(const Book& book, PhotoNumber photo, const number::TagNumber& tag) {
    if (!Query(book, "SELECT 1 FROM part WHERE tag = ?").with(tag.text()).next()) {
        throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
    }
    if (!Query(book, "SELECT 1 FROM photo WHERE number = ?").with(photo.value).next()) {
        throw WrongUse(fmt::format("the book has no photo {}", photo.text()));
    }
}

void keep_word(Book& book, PhotoNumber photo, const number::TagNumber& tag, Word word,
               const std::string& who) {
    book.together([&] {
        check_typed_pair(book, photo, tag);
        if (word == Word::belongs) {
            take_back_without_part(book, photo, who);
        }
        const Word before = word_on(book, {photo.value, tag.text()});
        if (before == word) {
            return;
        }
        Query(book, "INSERT OR REPLACE INTO person_word VALUES (?, ?, ?, ?, ?)")
            .with(photo.value, tag.text(), word == Word::belongs, printable_name(who), now_utc())
            .run();
        note_change(book, who, photo.text(), "link", words_for(before, tag.text()),
                    words_for(word, tag.text()), "a person's word");
    });
}

}  // namespace

std::vector<Link> all_links(const Book& book) {
    Query query(book, std::string(select_links) + "ORDER BY photo, tag");
    return links_of_query(query);
}

std::vector<Link> links_of(const Book& book, const number::TagNumber& tag) {
    Query query(book, std::string(select_links) + "WHERE tag = ? ORDER BY photo");
    query.with(tag.text());
    return links_of_query(query);
}

std::vector<Refusal> all_refusals(const Book& book) {
    Query query(book, "SELECT photo, tag FROM person_word WHERE belongs = 0 ORDER BY photo, tag");
    std::vector<Refusal> refusals;
    while (query.next()) {
        refusals.push_back({{query.whole(0)}, tag_from_stored(query.text(1))});
    }
    return refusals;
}

std::vector<Unsettled> all_unsettled(const Book& book) {
    Query query(book, "SELECT photo, why, suggestions FROM unsettled ORDER BY photo");
    std::vector<Unsettled> all;
    while (query.next()) {
        Unsettled unsettled{{query.whole(0)}, query.text(1), {}};
        for (const auto& tag : list_from_stored(query.text(2))) {
            unsettled.suggestions.push_back(tag_from_stored(tag));
        }
        all.push_back(std::move(unsettled));
    }
    return all;
}

void replace_program_links(Book& book, const std::vector<Link>& links,
                           const std::vector<Unsettled>& unsettled) {
    const Reasons wanted = wanted_reasons(links);
    book.together([&] {
        replace_links(book, wanted);
        replace_unsettled(book, unsettled);
    });
}

void link_by_person(Book& book, PhotoNumber photo, const number::TagNumber& tag, const std::string& who) {
    keep_word(book, photo, tag, Word::belongs, who);
}

void unlink_by_person(Book& book, PhotoNumber photo, const number::TagNumber& tag, const std::string& who) {
    keep_word(book, photo, tag, Word::refused, who);
}

void take_back_link(Book& book, PhotoNumber photo, const number::TagNumber& tag, const std::string& who) {
    book.together([&] {
        const int gone = Query(book, "DELETE FROM person_word WHERE photo = ? AND tag = ? AND belongs = 1")
                             .with(photo.value, tag.text())
                             .run();
        if (gone > 0) {
            note_change(book, who, photo.text(), "link", tag.text(), "", "a person's word taken back");
        }
    });
}

}  // namespace stripbook::book
