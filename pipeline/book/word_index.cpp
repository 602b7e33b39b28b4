#include "book/word_index.h"

#include <fmt/format.h>
#include <utf8proc.h>

#include <algorithm>
#include <iterator>
#include <optional>
#include <sstream>

#include "book/folded.h"
#include "book/parts.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "book/utf8.h"

namespace stripbook::book {

namespace {

// The columns of the index.
struct PartWords {
    std::string name;
    std::string place;
    std::string assembly;
    std::string path;
    std::string rest;
};

// What inspection, path and refitting say of a part, in their own words; what was corrected, done or dropped
// no more than what holds.
std::string words_beside_the_record(const Book& book, const number::TagNumber& tag) {
    Query query(
        book,
        "SELECT i.words FROM inspection AS i WHERE i.tag = ?1 AND i.kind = 'finding' AND NOT EXISTS "
        "(SELECT 1 FROM inspection AS later WHERE later.corrects = i.number) "
        "UNION ALL SELECT why || char(10) || from_whom || char(10) || drawing || char(10) || material "
        "FROM part_path WHERE tag = ?1 "
        "UNION ALL SELECT work FROM work WHERE tag = ?1 AND done_on = '' AND dropped_why = '' "
        "UNION ALL SELECT words || char(10) || size || char(10) || place FROM refit_note "
        "WHERE tag = ?1 AND ended_at IS NULL");
    query.with(tag.text());
    std::string words;
    while (query.next()) {
        words += '\n' + query.text(0);
    }
    return words;
}

PartWords words_of(const Book& book, const Part& part) {
    std::string rest = part.tag.text();
    for (const auto* field : {&part.storage, &part.condition, &part.other_tag}) {
        rest += '\n' + *field;
    }
    for (const auto& [heading, cell] : part.notes) {
        rest += '\n' + cell;
    }
    rest += words_beside_the_record(book, part.tag);
    return {folded(part.name), folded(part.place), folded(part.assembly), folded(part.path), folded(rest)};
}

bool is_word_character(char32_t code_point) {
    switch (utf8proc_category(static_cast<utf8proc_int32_t>(code_point))) {
        case UTF8PROC_CATEGORY_LU:
        case UTF8PROC_CATEGORY_LL:
        case UTF8PROC_CATEGORY_LT:
        case UTF8PROC_CATEGORY_LM:
        case UTF8PROC_CATEGORY_LO:
        case UTF8PROC_CATEGORY_ND:
        case UTF8PROC_CATEGORY_NL:
        case UTF8PROC_CATEGORY_NO:
            return true;
        default:
            return false;
    }
}

bool has_a_word_in_it(const std::string& text) {
    for (std::size_t at = 0; at < text.size();) {
        const auto character = character_at(text, at);
        if (character && is_word_character(character->code_point)) {
            return true;
        }
        at += character ? character->bytes : 1;
    }
    return false;
}

std::vector<std::string> folded_words(const std::vector<std::string>& typed) {
    std::vector<std::string> words;
    for (const auto& text : typed) {
        std::istringstream in(folded(text));
        std::copy_if(std::istream_iterator<std::string>(in), {}, std::back_inserter(words), has_a_word_in_it);
    }
    return words;
}

// A typed word as FTS5 takes it: a phrase, since "12-034" is two words for it, the last of which may go on.
std::string phrase(const std::string& word) {
    std::string quoted;
    for (const char c : word) {
        quoted += c == '"' ? "\"\"" : std::string(1, c);
    }
    return "\"" + quoted + "\" *";
}

// What is looked for, folded.
struct FoldedQuery {
    std::vector<std::string> words;
    std::vector<std::string> place;
    std::vector<std::string> assembly;
    std::string path;

    [[nodiscard]] bool empty() const {
        return words.empty() && place.empty() && assembly.empty() && path.empty();
    }
};

void add_condition(std::string& match, const std::string& column, const std::string& phrase) {
    match += (match.empty() ? "" : " AND ") + (column.empty() ? "" : column + " : ") + phrase;
}

std::string match_of(const FoldedQuery& query) {
    std::string match;
    for (const auto& word : query.words) {
        add_condition(match, "", phrase(word));
    }
    for (const auto& word : query.place) {
        add_condition(match, "place", phrase(word));
    }
    for (const auto& word : query.assembly) {
        add_condition(match, "assembly", phrase(word));
    }
    if (!query.path.empty()) {
        add_condition(match, "path", phrase(query.path));
    }
    return match;
}

struct Hit {
    number::TagNumber tag;
    std::size_t in_name = 0;  // words of the query that the name has
};

// The best ones in the index, of which `all` there are. Only row numbers, which are serial numbers, are
// looked at: fetching the text of every hit would take longer than all the rest.
std::vector<Hit> indexed_hits(const Book& book, const FoldedQuery& query, std::size_t most,
                              std::size_t& all) {
    const std::string match = match_of(query);
    Query count(book, "SELECT count(*) FROM word_index WHERE word_index MATCH ?");
    count.with(match);
    count.next();
    all = static_cast<std::size_t>(count.whole(0));
    std::string in_name = "0";
    std::vector<std::string> values;
    for (const auto& word : query.words) {
        in_name += " + (rowid IN (SELECT rowid FROM word_index WHERE word_index MATCH ?))";
        values.push_back("name : " + phrase(word));
    }
    values.push_back(match);
    Query best(book, "SELECT rowid, " + in_name + " AS in_name FROM word_index WHERE word_index MATCH ? " +
                         fmt::format("ORDER BY in_name DESC, rowid LIMIT {}", most));
    best.with_all(values);
    std::vector<Hit> hits;
    while (best.next()) {
        hits.push_back(
            {number::TagNumber(book.code(), best.small(0)), static_cast<std::size_t>(best.whole(1))});
    }
    return hits;
}

bool begins_a_word(const std::string& text, const std::string& word) {
    for (auto at = text.find(word); at != std::string::npos; at = text.find(word, at + 1)) {
        std::size_t before = at;
        while (before > 0 && (static_cast<unsigned char>(text[--before]) & 0xC0U) == 0x80U) {
        }
        const auto character = at == 0 ? std::nullopt : character_at(text, before);
        if (!character || !is_word_character(character->code_point)) {
            return true;
        }
    }
    return false;
}

bool begin_words(const std::string& text, const std::vector<std::string>& words) {
    return std::all_of(words.begin(), words.end(),
                       [&](const auto& word) { return begins_a_word(text, word); });
}

// A part that the index does not know as it is now.
std::optional<Hit> hit_in(const Book& book, const Part& part, const FoldedQuery& query) {
    const PartWords has = words_of(book, part);
    const std::string all =
        has.name + '\n' + has.place + '\n' + has.assembly + '\n' + has.path + '\n' + has.rest;
    if (!begin_words(all, query.words) || !begin_words(has.place, query.place) ||
        !begin_words(has.assembly, query.assembly) || (!query.path.empty() && has.path != query.path)) {
        return std::nullopt;
    }
    const auto in_name = std::count_if(query.words.begin(), query.words.end(),
                                       [&](const auto& word) { return begins_a_word(has.name, word); });
    return Hit{part.tag, static_cast<std::size_t>(in_name)};
}

std::vector<number::TagNumber> due_tags(const Book& book) {
    Query query(book, "SELECT tag FROM word_index_due ORDER BY tag");
    std::vector<number::TagNumber> tags;
    while (query.next()) {
        tags.push_back(tag_from_stored(query.text(0)));
    }
    return tags;
}

// The index as if the parts that are due were in it.
void bring_up_to_date(const Book& book, const FoldedQuery& query, std::vector<Hit>& hits, std::size_t& all) {
    for (const auto& tag : due_tags(book)) {
        Query stale(book, "SELECT 1 FROM word_index WHERE word_index MATCH ? AND rowid = ?");
        all -= stale.with(match_of(query), tag.serial()).next() ? 1 : 0;
        std::erase_if(hits, [&](const Hit& hit) { return hit.tag == tag; });
        const auto part = find_part(book, tag);
        if (const auto hit = part ? hit_in(book, *part, query) : std::nullopt) {
            hits.push_back(*hit);
            ++all;
        }
    }
}

}  // namespace

WordHits find_words(const Book& book, const WordQuery& query) {
    const FoldedQuery folded_query{folded_words(query.words), folded_words(query.place),
                                   folded_words(query.assembly), folded(query.path)};
    if (folded_query.empty()) {
        return {};
    }
    WordHits found;
    auto hits = indexed_hits(book, folded_query, query.most, found.all);
    bring_up_to_date(book, folded_query, hits, found.all);
    std::sort(hits.begin(), hits.end(), [](const Hit& a, const Hit& b) {
        return a.in_name != b.in_name ? a.in_name > b.in_name : a.tag < b.tag;
    });
    for (std::size_t i = 0; i < std::min(hits.size(), query.most); ++i) {
        found.tags.push_back(hits[i].tag);
    }
    return found;
}

void index_due_words(Book& book) {
    const auto due = due_tags(book);
    if (due.empty()) {
        return;  // emptying an empty table writes to the file all the same
    }
    for (const auto& tag : due) {
        Query(book, "DELETE FROM word_index WHERE rowid = ?").with(tag.serial()).run();
        if (const auto part = find_part(book, tag)) {
            const PartWords words = words_of(book, *part);
            Query(
                book,
                "INSERT INTO word_index (rowid, name, place, assembly, path, rest) VALUES (?, ?, ?, ?, ?, ?)")
                .with(tag.serial(), words.name, words.place, words.assembly, words.path, words.rest)
                .run();
        }
    }
    Query(book, "DELETE FROM word_index_due").run();
}

}  // namespace stripbook::book
