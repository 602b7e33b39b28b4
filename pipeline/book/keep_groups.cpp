// What linking found, compared with the groups the book holds.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>

#include "book/clock.h"
#include "book/history.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "book/unsettled_groups.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* program = "stripbook";
constexpr const char* how = "linking the photos anew";
constexpr int most_letters = 26;

std::set<PhotoNumber> as_set(const std::vector<PhotoNumber>& photos) {
    return {photos.begin(), photos.end()};
}

void add_suggestion(Book& book, GroupNumber number, int letter, const Suggested& suggested, int rank) {
    Query(book, "INSERT INTO unsettled_group_suggestion VALUES (?, ?, ?, ?, ?)")
        .with(number.value, letter, suggested.tag.text(), rank, suggested.chance)
        .run();
}

void change_suggestion(Book& book, GroupNumber number, char letter, int rank,
                       const std::optional<double>& chance) {
    Query(book,
          "UPDATE unsettled_group_suggestion SET rank = ?, chance = ? WHERE group_number = ? AND "
          "letter = ?")
        .with(rank, chance, number.value, letter - 'a' + 1)
        .run();
}

void not_suggested_now(Book& book, GroupNumber number, const GroupSuggestion& known) {
    if (known.rank) {
        Query(book,
              "UPDATE unsettled_group_suggestion SET rank = NULL, chance = NULL WHERE group_number = ? "
              "AND letter = ?")
            .with(number.value, known.letter - 'a' + 1)
            .run();
    }
}

// What is suggested now keeps the letter it had; what was not suggested before gets the next one.
void keep_suggestions(Book& book, const UnsettledGroup& kept, const std::vector<Suggested>& suggestions) {
    const auto found = [&](const number::TagNumber& tag) {
        return std::find_if(suggestions.begin(), suggestions.end(),
                            [&](const Suggested& s) { return s.tag == tag; });
    };
    std::set<number::TagNumber> lettered;
    for (const auto& known : kept.suggestions) {
        lettered.insert(known.tag);
        const auto now = found(known.tag);
        if (now == suggestions.end()) {
            not_suggested_now(book, kept.number, known);
            continue;
        }
        const int rank = static_cast<int>(now - suggestions.begin()) + 1;
        if (rank != known.rank || now->chance != known.chance) {
            change_suggestion(book, kept.number, known.letter, rank, now->chance);
        }
    }
    int letter = static_cast<int>(kept.suggestions.size());
    for (std::size_t i = 0; i < suggestions.size(); ++i) {
        if (letter < most_letters && lettered.insert(suggestions[i].tag).second) {
            add_suggestion(book, kept.number, ++letter, suggestions[i], static_cast<int>(i) + 1);
        }
    }
}

void keep_photos(Book& book, const UnsettledGroup& kept, const std::vector<PhotoNumber>& photos) {
    const auto before = as_set(kept.photos);
    const auto after = as_set(photos);
    for (const auto& photo : before) {
        if (after.count(photo) == 0) {
            Query(book, "UPDATE unsettled_group_photo SET left_at = ? WHERE group_number = ? AND photo = ?")
                .with(now_utc(), kept.number.value, photo.value)
                .run();
        }
    }
    for (const auto& photo : after) {
        if (before.count(photo) == 0) {
            Query(book,
                  "UPDATE unsettled_group_photo SET left_at = NULL WHERE group_number = ? AND photo = ?")
                .with(kept.number.value, photo.value)
                .run();
        }
    }
    if (before != after) {
        note_change(book, program, kept.number.text(), "photos", photo_list(kept.photos), photo_list(photos),
                    how);
    }
}

void set_state(Book& book, const UnsettledGroup& kept, const std::string& state, const std::string& why,
               const std::optional<std::string>& ended_at) {
    Query(book, "UPDATE unsettled_group SET state = ?, why = ?, ended_at = ?, ended_by = ? WHERE number = ?")
        .with(state, why, ended_at, ended_at ? program : "", kept.number.value)
        .run();
}

void keep_known(Book& book, const UnsettledGroup& kept, const FoundGroup& found) {
    keep_photos(book, kept, found.photos);
    keep_suggestions(book, kept, found.suggestions);
    const std::string why = printable_name(found.why);
    if (kept.state != GroupState::open || kept.why != why) {
        set_state(book, kept, "open", why, std::nullopt);
    }
}

void add_group(Book& book, const FoundGroup& found) {
    Query(book, "INSERT INTO unsettled_group (state, why) VALUES ('open', ?)")
        .with(printable_name(found.why))
        .run();
    UnsettledGroup made;
    made.number = {last_row_number(book)};
    int place = 0;
    for (const auto& photo : found.photos) {
        Query(book, "INSERT INTO unsettled_group_photo VALUES (?, ?, ?, NULL)")
            .with(made.number.value, photo.value, ++place)
            .run();
    }
    keep_suggestions(book, made, found.suggestions);
    note_change(book, program, made.number.text(), "photos", "", photo_list(found.photos), how);
}

UnsettledGroup known_group(const Book& book, GroupNumber number) {
    auto group = find_group(book, number);
    if (!group || (group->state != GroupState::open && group->state != GroupState::gone)) {
        throw BookError(
            fmt::format("{} cannot be kept: the book has no such open group: a fault of the "
                        "program",
                        number.text()));
    }
    return *std::move(group);
}

}  // namespace

void keep_groups(Book& book, const std::vector<FoundGroup>& found) {
    book.together([&] {
        std::set<GroupNumber> still;
        for (const auto& group : found) {
            if (group.number) {
                still.insert(*group.number);
                keep_known(book, known_group(book, *group.number), group);
            }
        }
        for (const auto& kept : open_groups(book)) {
            if (still.count(kept.number) == 0) {
                keep_photos(book, kept, {});
                set_state(book, kept, "gone", kept.why, now_utc());
            }
        }
        for (const auto& group : found) {
            if (!group.number) {
                add_group(book, group);
            }
        }
    });
}

}  // namespace stripbook::book
