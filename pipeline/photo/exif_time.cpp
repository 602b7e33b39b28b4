#include "photo/exif_time.h"

#include <algorithm>
#include <charconv>
#include <chrono>

#include "photo/metadata.h"
#include "photo/one_line.h"

namespace stripbook::photo {

namespace {

bool all_digits(std::string_view text) {
    return !text.empty() &&
           std::all_of(text.begin(), text.end(), [](char c) { return c >= '0' && c <= '9'; });
}

std::optional<int> number(std::string_view text) {
    int value = 0;
    if (!all_digits(text) ||
        std::from_chars(text.data(), text.data() + text.size(), value).ec != std::errc()) {
        return std::nullopt;
    }
    return value;
}

struct DateAndTime {
    std::chrono::sys_days day;
    int hour = 0, minute = 0, second = 0;
};

// "YYYY?MM?DD?hh:mm:ss" with the given separators at the places of the question marks.
std::optional<DateAndTime> date_and_time(std::string_view text, char within_date, char behind_date) {
    constexpr std::size_t length = 19;
    if (text.size() != length || text[4] != within_date || text[7] != within_date ||
        text[10] != behind_date || text[13] != ':' || text[16] != ':') {
        return std::nullopt;
    }
    const auto year = number(text.substr(0, 4));
    const auto month = number(text.substr(5, 2));
    const auto day = number(text.substr(8, 2));
    const auto hour = number(text.substr(11, 2));
    const auto minute = number(text.substr(14, 2));
    const auto second = number(text.substr(17, 2));
    if (!year || !month || !day || !hour || !minute || !second || *year == 0 || *hour > 23 || *minute > 59 ||
        *second > 59) {
        return std::nullopt;
    }
    const std::chrono::year_month_day date{std::chrono::year(*year),
                                           std::chrono::month(static_cast<unsigned>(*month)),
                                           std::chrono::day(static_cast<unsigned>(*day))};
    if (!date.ok()) {
        return std::nullopt;
    }
    return DateAndTime{std::chrono::sys_days(date), *hour, *minute, *second};
}

}  // namespace

std::string time_of_exif(std::string_view date_and_time_text, std::string_view sub_second) {
    constexpr std::size_t most_digits = 9;
    std::string text = one_line(date_and_time_text);
    if (!date_and_time(text, ':', ' ')) {
        return {};
    }
    text[4] = text[7] = '-';
    text[10] = 'T';
    const std::string digits = one_line(sub_second);
    return all_digits(digits) ? text + "." + digits.substr(0, most_digits) : text;
}

std::string offset_of_exif(std::string_view offset) {
    constexpr int earliest_minutes = -12 * 60;
    constexpr int latest_minutes = 14 * 60;
    std::string text = one_line(offset);
    if (text.size() != 6 || (text[0] != '+' && text[0] != '-') || text[3] != ':') {
        return {};
    }
    const auto hours = number(std::string_view(text).substr(1, 2));
    const auto minutes = number(std::string_view(text).substr(4, 2));
    if (!hours || !minutes || *minutes > 59) {
        return {};
    }
    const int total = (text[0] == '-' ? -1 : 1) * (*hours * 60 + *minutes);
    return total < earliest_minutes || total > latest_minutes ? std::string() : text;
}

std::optional<double> seconds_of(const std::string& time) {
    constexpr std::size_t whole_length = 19;
    const auto whole = date_and_time(std::string_view(time).substr(0, whole_length), '-', 'T');
    if (!whole) {
        return std::nullopt;
    }
    double fraction = 0;
    if (time.size() > whole_length) {
        const std::string digits = time.substr(whole_length + 1);
        if (time[whole_length] != '.' || !all_digits(digits)) {
            return std::nullopt;
        }
        const std::string text = "0." + digits;
        std::from_chars(text.data(), text.data() + text.size(), fraction);
    }
    const auto at = whole->day + std::chrono::hours(whole->hour) + std::chrono::minutes(whole->minute) +
                    std::chrono::seconds(whole->second);
    return static_cast<double>(std::chrono::seconds(at.time_since_epoch()).count()) + fraction;
}

}  // namespace stripbook::photo
