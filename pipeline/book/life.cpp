#include "book/life.h"

#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <iterator>
#include <set>

#include "book/clock.h"
#include "book/history.h"
#include "book/part_file.h"
#include "book/parts.h"
#include "book/sql_access.h"
#include "book/tag_meanings.h"
#include "book/unsettled_groups.h"
#include "errors.h"

namespace stripbook::book {

namespace {

constexpr std::size_t to_minutes = 16;  // "2026-03-20T09:00"

std::string in_minutes(std::string time) {
    time.resize(std::min(time.size(), to_minutes));
    std::replace(time.begin(), time.end(), 'T', ' ');
    return time;
}

double seconds_of(const std::string& rfc_3339) {
    std::tm parts{};
    const char* const rest = strptime(rfc_3339.c_str(), "%Y-%m-%dT%H:%M:%S", &parts);
    return rest == nullptr ? 0 : static_cast<double>(timegm(&parts));
}

LifeEvent event_of(const Change& change) {
    return {seconds_of(change.at),
            in_minutes(change.at) + " UTC",
            change.who,
            change.what,
            sentence_of(change),
            {},
            change};
}

LifeEvent event_of(const PartPhoto& photo, const std::string& tag, std::string sentence) {
    return {photo.photo.utc_s.value_or(photo.photo.corrected_seconds),
            in_minutes(time_words(photo.photo.corrected_seconds).value_or("")),
            "",
            tag,
            std::move(sentence),
            {photo.photo.number},
            std::nullopt};
}

std::string stage_sentence(const PartPhoto& photo, bool is_first) {
    if (photo.stage == stage_words.front()) {
        return is_first ? "taken off the machine: first photographed as removed" : "photographed as removed";
    }
    const std::string known = photo.stage.empty() ? "stage not known" : photo.stage;
    return fmt::format("photographed ({}){}", known,
                       photo.on_bench ? ", on the bench beside a scale marker" : "");
}

// One event for all photos of a day that tell the same.
void add_photos(std::vector<LifeEvent>& life, const PartFile& file) {
    std::set<std::string> stages_seen;
    std::vector<LifeEvent> events;
    std::vector<std::string> keys;
    for (const auto& photo : file.photos) {
        const bool is_first = stages_seen.insert(photo.stage).second;
        auto event = event_of(photo, file.part.tag.text(), stage_sentence(photo, is_first));
        constexpr std::size_t to_days = 10;
        const std::string key =
            photo.stage + (photo.on_bench ? " bench " : " ") + event.when.substr(0, to_days);
        const auto known = std::find(keys.begin(), keys.end(), key);
        if (known == keys.end()) {
            keys.push_back(key);
            events.push_back(std::move(event));
        } else {
            events[static_cast<std::size_t>(known - keys.begin())].photos.push_back(photo.photo.number);
        }
    }
    std::move(events.begin(), events.end(), std::back_inserter(life));
}

// What people said of photos and this part.
void add_links(const Book& book, std::vector<LifeEvent>& life, const std::string& tag) {
    Query query(
        book,
        "SELECT at, who, what, field, before, after, how FROM history WHERE what IN (SELECT 'p' || photo "
        "FROM person_word WHERE tag = ?1 UNION SELECT 'p' || photo FROM program_link WHERE tag = ?1) AND "
        "field = 'link' AND who <> 'stripbook' AND (instr(before, ?1) OR instr(after, ?1)) ORDER BY id");
    query.with(tag);
    while (query.next()) {
        life.push_back(event_of(Change{query.text(0), query.text(1), query.text(2), query.text(3),
                                       query.text(4), query.text(5), query.text(6)}));
    }
}

}  // namespace

std::vector<LifeEvent> life_of(const Book& book, const number::TagNumber& tag) {
    std::vector<LifeEvent> life;
    const auto entries = history_of(book, tag.text());
    if (find_part(book, tag)) {
        add_photos(life, gather_part(book, tag));
    } else if (entries.empty()) {
        throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
    }
    for (const auto& change : entries) {
        life.push_back(event_of(change));
    }
    add_links(book, life, tag.text());
    for (const auto& merged : merged_numbers_of(book, tag)) {
        for (const auto& change : history_of(book, merged.text())) {
            life.push_back(event_of(change));
        }
        add_links(book, life, merged.text());
    }
    std::stable_sort(life.begin(), life.end(),
                     [](const LifeEvent& a, const LifeEvent& b) { return a.utc_s < b.utc_s; });
    return life;
}

std::vector<LifeEvent> last_events(const Book& book, int most) {
    std::vector<LifeEvent> events;
    for (const auto& change : last_changes(book, most)) {
        events.push_back(event_of(change));
    }
    return events;
}

}  // namespace stripbook::book
