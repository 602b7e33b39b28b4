#include "unsettled_list.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>

#include "book/parts.h"
#include "book/paths.h"
#include "book/photos.h"
#include "book/sightings.h"
#include "command.h"
#include "day/settle.h"

namespace stripbook::cli {

namespace {

constexpr const char* indent = "          ";

// Best first; what is no longer suggested is left out, but for the first suggestion, which older sheets show.
std::vector<print::SuggestionOnSheet> suggestions_of(const book::Book& book,
                                                     const book::UnsettledGroup& group) {
    std::vector<print::SuggestionOnSheet> list;
    for (const auto& s : group.suggestions) {
        if (!s.rank && s.letter != 'a') {
            continue;
        }
        const auto part = book::find_part(book, s.tag);
        const auto shot = book::tag_shot_of(book, s.tag);
        list.push_back({s, part ? part->name : "", shot ? book::find_photo(book, *shot) : std::nullopt});
    }
    const auto rank = [](const print::SuggestionOnSheet& s) {
        return s.suggestion.rank.value_or(std::numeric_limits<int>::max());
    };
    std::sort(list.begin(), list.end(), [&](const auto& a, const auto& b) { return rank(a) < rank(b); });
    return list;
}

print::GroupOnSheet gathered(const book::Book& book, book::UnsettledGroup group) {
    print::GroupOnSheet out;
    for (const auto& number : group.photos) {
        if (auto photo = book::find_photo(book, number)) {
            out.photos.push_back(*std::move(photo));
        }
    }
    out.suggestions = suggestions_of(book, group);
    out.group = std::move(group);
    return out;
}

void print_suggestion(const print::SuggestionOnSheet& s) {
    const auto& suggestion = s.suggestion;
    fmt::print("{}{}  {}  {}: {}{}\n", indent, suggestion.letter, suggestion.tag.text(),
               s.name.empty() ? "name not yet known" : book::printable_name(s.name),
               suggestion.rank ? print::chance_words(suggestion.chance) : "no longer suggested",
               suggestion.rank == 1 && suggestion.letter != 'a' ? " (the best now)" : "");
}

nlohmann::json photo_texts(const std::vector<book::PhotoNumber>& photos) {
    auto list = nlohmann::json::array();
    for (const auto& photo : photos) {
        list.push_back(photo.text());
    }
    return list;
}

const char* state_word(book::GroupState state) {
    return state == book::GroupState::open      ? "open"
           : state == book::GroupState::settled ? "settled"
           : state == book::GroupState::apart   ? "apart"
                                                : "gone";
}

}  // namespace

std::vector<print::GroupOnSheet> gather_groups(const book::Book& book,
                                               const std::vector<book::GroupNumber>& wanted) {
    std::vector<book::UnsettledGroup> groups;
    if (wanted.empty()) {
        groups = book::open_groups(book);
        book::most_photos_first(groups);
    }
    for (const auto& number : wanted) {
        if (auto group = book::find_group(book, number)) {
            groups.push_back(*std::move(group));
        }
    }
    std::vector<print::GroupOnSheet> out;
    out.reserve(groups.size());
    for (auto& group : groups) {
        out.push_back(gathered(book, std::move(group)));
    }
    return out;
}

void print_group(const book::Book& book, const print::GroupOnSheet& g) {
    if (g.group.state != book::GroupState::open) {
        fmt::print("{}\n", day::ending_words(book, g.group));
        return;
    }
    fmt::print("{:<9} {}: {}, {}, {}\n", g.group.number.text(), book::photo_list(g.group.photos),
               counted(g.photos.size(), "photo", "photos"),
               book::printable_name(g.photos.front().camera_words), print::time_span_words(g.photos));
    fmt::print("{}{}\n", indent, g.group.why);
    for (const auto& suggestion : g.suggestions) {
        print_suggestion(suggestion);
    }
}

nlohmann::json to_json(const book::Book& book, const print::GroupOnSheet& g) {
    auto suggestions = nlohmann::json::array();
    for (const auto& s : g.suggestions) {
        suggestions.push_back(
            {{"letter", std::string(1, s.suggestion.letter)},
             {"tag", s.suggestion.tag.text()},
             {"name", s.name},
             {"rank", s.suggestion.rank ? nlohmann::json(*s.suggestion.rank) : nlohmann::json(nullptr)},
             {"chance", s.suggestion.chance ? nlohmann::json(*s.suggestion.chance) : nlohmann::json(nullptr)},
             {"tag_shot", s.tag_shot ? nlohmann::json(s.tag_shot->number.text()) : nlohmann::json(nullptr)}});
    }
    const auto& group = g.group;
    const bool open = group.state == book::GroupState::open;
    return {{"group", group.number.value},
            {"state", state_word(group.state)},
            {"photos", photo_texts(group.photos)},
            {"left", photo_texts(group.left)},
            {"camera", g.photos.empty() ? "" : g.photos.front().camera_words},
            {"from", g.photos.empty() ? "" : g.photos.front().camera_time.text},
            {"to", g.photos.empty() ? "" : g.photos.back().camera_time.text},
            {"why", group.why},
            {"suggestions", suggestions},
            {"decision", group.decision},
            {"ended_at", group.ended_at},
            {"ended_by", group.ended_by},
            {"ending", open ? "" : day::ending_words(book, group)}};
}

}  // namespace stripbook::cli
