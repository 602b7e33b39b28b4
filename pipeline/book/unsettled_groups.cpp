#include "book/unsettled_groups.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <tuple>
#include <utility>

#include "book/clock.h"
#include "book/history.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "book/stored_values.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr const char* how_settled = "settle";

constexpr std::array<std::pair<GroupState, const char*>, 4> state_words{{{GroupState::open, "open"},
                                                                         {GroupState::settled, "settled"},
                                                                         {GroupState::apart, "apart"},
                                                                         {GroupState::gone, "gone"}}};

std::string stored_state(GroupState state) {
    const auto it = std::find_if(state_words.begin(), state_words.end(),
                                 [&](const auto& pair) { return pair.first == state; });
    return it->second;
}

GroupState state_from_stored(const std::string& text) {
    const auto it = std::find_if(state_words.begin(), state_words.end(),
                                 [&](const auto& pair) { return pair.second == text; });
    if (it == state_words.end()) {
        throw BookError(
            fmt::format("the book holds a group in the state \"{}\", which this program does "
                        "not know; run the check of the book",
                        printable_name(text)));
    }
    return it->first;
}

constexpr const char* select_groups =
    "SELECT number, state, why, decision, coalesce(ended_at, ''), ended_by FROM unsettled_group ";

UnsettledGroup group_of_row(Query& row) {
    UnsettledGroup group;
    group.number = {row.whole(0)};
    group.state = state_from_stored(row.text(1));
    group.why = row.text(2);
    group.decision = row.text(3);
    group.ended_at = row.text(4);
    group.ended_by = row.text(5);
    return group;
}

void add_photos(const Book& book, UnsettledGroup& group) {
    Query query(book,
                "SELECT photo, left_at FROM unsettled_group_photo WHERE group_number = ? ORDER BY place, "
                "photo");
    query.with(group.number.value);
    while (query.next()) {
        (query.is_null(1) ? group.photos : group.left).push_back({query.whole(0)});
    }
}

void add_suggestions(const Book& book, UnsettledGroup& group) {
    Query query(book,
                "SELECT letter, tag, rank, chance FROM unsettled_group_suggestion WHERE group_number = ? "
                "ORDER BY letter");
    query.with(group.number.value);
    while (query.next()) {
        group.suggestions.push_back({static_cast<char>('a' + query.small(0) - 1),
                                     tag_from_stored(query.text(1)), query.maybe_small(2),
                                     query.maybe_real(3)});
    }
}

UnsettledGroup open_group(const Book& book, GroupNumber number) {
    auto group = find_group(book, number);
    if (!group || group->state != GroupState::open) {
        throw WrongUse(fmt::format("{} does not wait for a person", number.text()));
    }
    return *std::move(group);
}

void end_group(Book& book, GroupNumber number, GroupState state, const std::string& decision,
               const std::string& who) {
    Query(book,
          "UPDATE unsettled_group SET state = ?, decision = ?, ended_at = ?, ended_by = ? "
          "WHERE number = ?")
        .with(stored_state(state), decision, now_utc(), printable_name(who), number.value)
        .run();
}

}  // namespace

const GroupSuggestion* UnsettledGroup::best() const {
    const auto it = std::find_if(suggestions.begin(), suggestions.end(),
                                 [](const GroupSuggestion& s) { return s.rank == 1; });
    return it == suggestions.end() ? nullptr : &*it;
}

std::vector<UnsettledGroup> open_groups(const Book& book) {
    std::vector<UnsettledGroup> groups;
    Query query(book, std::string(select_groups) + "WHERE state = 'open' ORDER BY number");
    while (query.next()) {
        groups.push_back(group_of_row(query));
    }
    for (auto& group : groups) {
        add_photos(book, group);
        add_suggestions(book, group);
    }
    return groups;
}

std::optional<UnsettledGroup> find_group(const Book& book, GroupNumber number) {
    Query query(book, std::string(select_groups) + "WHERE number = ?");
    query.with(number.value);
    if (!query.next()) {
        return std::nullopt;
    }
    auto group = group_of_row(query);
    add_photos(book, group);
    add_suggestions(book, group);
    return group;
}

GroupNumber highest_group(const Book& book) {
    Query query(book, "SELECT coalesce(max(number), 0) FROM unsettled_group");
    query.next();
    return {query.whole(0)};
}

bool waits_without_group(const Book& book) {
    return Query(book,
                 "SELECT 1 FROM unsettled WHERE photo NOT IN (SELECT photo FROM unsettled_group_photo JOIN "
                 "unsettled_group ON number = group_number WHERE left_at IS NULL AND state = 'open') LIMIT 1")
        .next();
}

std::map<PhotoNumber, GroupNumber> groups_holding(const Book& book) {
    std::map<PhotoNumber, GroupNumber> holding;
    Query query(book,
                "SELECT last.photo, last.number FROM (SELECT photo, max(group_number) AS number FROM "
                "unsettled_group_photo GROUP BY photo) AS last JOIN unsettled_group AS g ON g.number = "
                "last.number WHERE g.state IN ('open', 'gone')");
    while (query.next()) {
        holding[{query.whole(0)}] = {query.whole(1)};
    }
    return holding;
}

std::set<PhotoNumber> group_cuts(const Book& book) {
    std::set<PhotoNumber> cuts;
    Query query(book, "SELECT photo FROM unsettled_group_cut");
    while (query.next()) {
        cuts.insert({query.whole(0)});
    }
    return cuts;
}

void settle_group(Book& book, GroupNumber number, const std::string& decision, const std::string& who) {
    book.together([&] {
        open_group(book, number);
        end_group(book, number, GroupState::settled, decision, who);
        note_change(book, who, number.text(), "decision", "", decision, how_settled);
    });
}

void take_group_apart(Book& book, GroupNumber number, const std::vector<PhotoNumber>& before,
                      const std::string& who) {
    book.together([&] {
        open_group(book, number);
        for (const auto& photo : before) {
            Query(book, "INSERT OR IGNORE INTO unsettled_group_cut VALUES (?, ?, ?)")
                .with(photo.value, printable_name(who), now_utc())
                .run();
        }
        end_group(book, number, GroupState::apart, "", who);
        note_change(book, who, number.text(), "decision", "", "apart before " + photo_list(before),
                    how_settled);
    });
}

void reopen_group(Book& book, GroupNumber number, const std::string& who) {
    book.together([&] {
        const auto group = find_group(book, number);
        if (!group || group->state != GroupState::settled) {
            throw WrongUse(fmt::format("{} was not settled: there is nothing to take back", number.text()));
        }
        Query(book,
              "UPDATE unsettled_group SET state = 'open', decision = '', ended_at = NULL, ended_by = '' "
              "WHERE number = ?")
            .with(number.value)
            .run();
        note_change(book, who, number.text(), "decision", group->decision, "", how_settled);
    });
}

void most_photos_first(std::vector<UnsettledGroup>& groups) {
    std::sort(groups.begin(), groups.end(), [](const UnsettledGroup& a, const UnsettledGroup& b) {
        return std::tuple(b.photos.size(), a.number) < std::tuple(a.photos.size(), b.number);
    });
}

std::string photo_list(std::vector<PhotoNumber> photos) {
    std::sort(photos.begin(), photos.end());
    std::string text;
    for (std::size_t first = 0; first < photos.size();) {
        std::size_t last = first;
        while (last + 1 < photos.size() && photos[last + 1].value == photos[last].value + 1) {
            ++last;
        }
        text += (text.empty() ? "" : ", ") + photos[first].text();
        text += last == first ? "" : (last == first + 1 ? ", " : "-") + photos[last].text();
        first = last + 1;
    }
    return text;
}

}  // namespace stripbook::book
