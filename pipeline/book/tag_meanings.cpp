#include "book/tag_meanings.h"

#include "book/clock.h"
#include "book/parts.h"
#include "book/sql_access.h"
#include "book/stored_values.h"

namespace stripbook::book {

std::vector<TagMeaning> tag_meanings(const Book& book) {
    Query query(book, "SELECT tag, from_s, part, at, who FROM tag_meaning ORDER BY tag, from_s");
    std::vector<TagMeaning> meanings;
    while (query.next()) {
        meanings.push_back({tag_from_stored(query.text(0)), query.real(1), tag_from_stored(query.text(2)),
                            query.text(3), query.text(4)});
    }
    return meanings;
}

const TagMeaning* meaning_at(const std::vector<TagMeaning>& meanings, const number::TagNumber& tag,
                             double seconds) {
    const TagMeaning* latest = nullptr;
    for (const auto& meaning : meanings) {
        if (meaning.tag == tag && meaning.from_s <= seconds) {
            latest = &meaning;
        }
    }
    return latest;
}

void set_tag_meaning(Book& book, const TagMeaning& meaning, const std::string& who) {
    static_cast<void>(part_or_refusal(book, meaning.part));
    Query(book,
          "INSERT INTO tag_meaning (tag, from_s, part, at, who) VALUES (?, ?, ?, ?, ?) ON CONFLICT (tag, "
          "from_s) DO UPDATE SET part = excluded.part, at = excluded.at, who = excluded.who")
        .with(meaning.tag.text(), meaning.from_s, meaning.part.text(), now_utc(), who)
        .run();
}

std::optional<number::TagNumber> merged_into(const Book& book, const number::TagNumber& tag) {
    Query query(book, "SELECT part FROM tag_meaning WHERE tag = ? AND from_s = ?");
    query.with(tag.text(), since_ever);
    return query.next() ? std::optional(tag_from_stored(query.text(0))) : std::nullopt;
}

std::vector<number::TagNumber> merged_numbers_of(const Book& book, const number::TagNumber& part) {
    Query query(book, "SELECT tag FROM tag_meaning WHERE part = ? AND from_s = ? ORDER BY tag");
    query.with(part.text(), since_ever);
    std::vector<number::TagNumber> tags;
    while (query.next()) {
        tags.push_back(tag_from_stored(query.text(0)));
    }
    return tags;
}

number::TagNumber part_from_typed(const Book& book, const std::string& text) {
    const auto tag = number::TagNumber::from_typed(text, book.code());
    return merged_into(book, tag).value_or(tag);
}

}  // namespace stripbook::book
