#include "book/settings.h"

#include <fmt/format.h>
#include <pwd.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <filesystem>

#include "book/history.h"
#include "book/number_text.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "book/utf8.h"
#include "errors.h"

namespace stripbook::book {

namespace {

using Allowed = bool (*)(const std::string& value);

struct KnownSetting {
    const char* name;
    const char* initial;
    const char* meaning;
    const char* rule;  ///< behind "... must be"
    Allowed allowed;
};

bool is_link_time(const std::string& value) {
    constexpr double longest_min = 24 * 60;
    const auto minutes = number_from(value);
    return minutes && *minutes > 0 && *minutes <= longest_min;
}

bool is_link_sureness(const std::string& value) {
    constexpr double least = 0.5;
    const auto chance = number_from(value);
    return chance && *chance >= least && *chance <= 1;
}

bool is_unit(const std::string& value) {
    return value == "mm" || value == "inch";
}

bool is_time_zone(const std::string& value) {
    if (value == "UTC") {
        return true;
    }
    const bool is_name =
        !value.empty() && value.front() != '/' && value.find("..") == std::string::npos &&
        value.find_first_not_of("ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789_+-/") ==
            std::string::npos;
    std::error_code ignored;
    return is_name && std::filesystem::is_regular_file("/usr/share/zoneinfo/" + value, ignored);
}

bool is_one_line(const std::string& value) {
    return value.find_first_of("\n\t") == std::string::npos;
}

constexpr std::array<KnownSetting, 7> known_settings{{
    {"link time", "3",
     "minutes: longer gaps usually lie between two parts, until a day's own photos show otherwise; five "
     "times it is a pause",
     "a number of minutes above 0 and up to 1440, for example 3", is_link_time},
    {"link sureness", "0.9", "the least chance, 0.5 to 1, at which a photo is linked without asking a person",
     "a number from 0.5 to 1, for example 0.9", is_link_sureness},
    {"units", "mm", "mm or inch: how lengths are shown", "mm or inch", is_unit},
    {"time zone", "UTC", "the workshop's time zone, for example Europe/London",
     "the name of a time zone that this computer knows, for example Europe/London or UTC", is_time_zone},
    {"who", "", "who is at work, for the history; empty: the login name", "one line of text", is_one_line},
    {"currency", "", "the workshop's currency, for example GBP; empty: amounts stand alone",
     "one line of text", is_one_line},
    {"workshop", "", "the workshop's name, printed on reports", "one line of text", is_one_line},
}};

const KnownSetting& known(const std::string& name) {
    const auto* const found = std::find_if(known_settings.begin(), known_settings.end(),
                                           [&name](const KnownSetting& s) { return name == s.name; });
    if (found == known_settings.end()) {
        std::string names;
        for (const auto& s : known_settings) {
            names += (names.empty() ? "" : ", ") + std::string(s.name);
        }
        throw WrongUse(fmt::format("there is no setting \"{}\"; there are: {}", printable_name(name), names));
    }
    return *found;
}

std::optional<std::string> stored(const Book& book, const std::string& name) {
    Query query(book, "SELECT value FROM setting WHERE name = ?");
    query.with(name);
    return query.next() ? std::optional(query.text(0)) : std::nullopt;
}

}  // namespace

std::vector<Setting> all_settings(const Book& book) {
    std::vector<Setting> settings;
    for (const auto& s : known_settings) {
        const auto value = stored(book, s.name);
        settings.push_back({s.name, value.value_or(s.initial), s.meaning, !value});
    }
    return settings;
}

std::string setting(const Book& book, const std::string& name) {
    const KnownSetting& s = known(name);
    return stored(book, name).value_or(s.initial);
}

void set_setting(Book& book, const std::string& name, const std::string& value, const std::string& who) {
    const KnownSetting& s = known(name);
    check_typed_text(value, "setting");
    const std::string clean = without_outer_spaces(value);
    if (!s.allowed(clean)) {
        throw WrongUse(fmt::format("\"{}\" will not do for the setting \"{}\": it must be {}",
                                   printable_name(clean), name, s.rule));
    }
    book.together([&] {
        const auto kept = stored(book, name);
        if (kept == clean) {
            return;
        }
        Query(book,
              "INSERT INTO setting VALUES (?, ?) ON CONFLICT (name) DO UPDATE SET value = excluded.value")
            .with(name, clean)
            .run();
        note_change(book, who, "setting", name, kept.value_or(s.initial), clean, "set");
    });
}

std::string login_name() {
    constexpr std::size_t room_bytes = 16384;
    std::vector<char> room(room_bytes);
    passwd entry{};
    passwd* found = nullptr;
    if (getpwuid_r(getuid(), &entry, room.data(), room.size(), &found) != 0 || found == nullptr ||
        found->pw_name[0] == '\0') {
        return "unknown";
    }
    return printable_name(found->pw_name);
}

std::string who_is_working(const Book& book) {
    const std::string who = setting(book, "who");
    return who.empty() ? login_name() : who;
}

}  // namespace stripbook::book
