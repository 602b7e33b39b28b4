// What is known of the cameras' clocks: a person's words, and the pieces and true times worked out from all.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "book/cameras.h"
#include "book/clock.h"
#include "book/history.h"
#include "book/number_text.h"
#include "book/paths.h"
#include "book/sql_access.h"
#include "errors.h"

namespace stripbook::book {

namespace {

std::string record_of(CameraId camera) {
    return fmt::format("camera {}", camera.value);
}

std::string ahead_words(double ahead_s, double u_s) {
    const std::string by =
        std::llround(std::abs(ahead_s)) == 0
            ? "right"
            : fmt::format("{} {}", time_span_words(ahead_s), ahead_s < 0 ? "behind" : "ahead");
    return fmt::format("{}, give or take {}", by, time_span_words(std::max(1.0, std::ceil(u_s - 0.01))));
}

std::string words_at(const Book& book, CameraId camera, PhotoNumber photo) {
    Query query(
        book, "SELECT ahead_s, u_s FROM clock_word WHERE camera = ? AND photo = ? AND taken_back_at IS NULL");
    query.with(camera.value, photo.value);
    return query.next() ? fmt::format("{} at {}", ahead_words(query.real(0), query.real(1)), photo.text())
                        : "";
}

using Pieces = std::map<std::pair<std::int64_t, int>, ClockPiece>;

Pieces by_key(const std::vector<ClockPiece>& list) {
    Pieces pieces;
    for (const ClockPiece& piece : list) {
        pieces.emplace(std::pair(piece.camera.value, piece.number), piece);
    }
    return pieces;
}

// All pieces of one camera in words, for its history: how far off and how that is known.
std::map<std::int64_t, std::string> clocks_in_words(const Pieces& pieces) {
    std::map<std::int64_t, std::string> words;
    for (const auto& [key, piece] : pieces) {
        std::string& text = words[key.first];
        text += fmt::format("{}{}: {}", text.empty() ? "" : "; ", words_of(piece), piece.how);
    }
    return words;
}

void note_new_clocks(Book& book, const Pieces& kept, const Pieces& wanted, const std::string& who) {
    auto before = clocks_in_words(kept);
    for (const auto& [camera, after] : clocks_in_words(wanted)) {
        if (before[camera] != after) {
            note_change(book, who, record_of({camera}), "clock", before[camera], after,
                        "worked out from the photos");
        }
    }
}

void replace_pieces(Book& book, const std::vector<ClockPiece>& list, const std::string& who) {
    const Pieces wanted = by_key(list);
    const Pieces kept = by_key(clock_pieces(book));
    for (const auto& [key, piece] : kept) {
        if (!wanted.contains(key)) {
            Query(book, "DELETE FROM clock_piece WHERE camera = ? AND number = ?")
                .with(key.first, key.second)
                .run();
        }
    }
    for (const auto& [key, piece] : wanted) {
        const auto known = kept.find(key);
        if (known == kept.end() || known->second != piece) {
            Query(book, "INSERT OR REPLACE INTO clock_piece VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)")
                .with(key.first, piece.number, piece.first_photo.value, piece.last_photo.value, piece.began,
                      piece.ahead_s, piece.u_s, piece.drift_s_per_day, piece.how)
                .run();
        }
    }
    note_new_clocks(book, kept, wanted, who);
}

std::map<PhotoNumber, TrueTime> kept_times(const Book& book) {
    Query query(book, "SELECT photo, corrected_s, utc_s, u_s, how FROM true_time");
    std::map<PhotoNumber, TrueTime> times;
    while (query.next()) {
        const PhotoNumber photo{query.whole(0)};
        times.emplace(
            photo, TrueTime{photo, query.real(1), query.maybe_real(2), query.maybe_real(3), query.text(4)});
    }
    return times;
}

std::size_t replace_times(Book& book, const std::vector<TrueTime>& times) {
    auto kept = kept_times(book);
    std::size_t changed = 0;
    for (const TrueTime& time : times) {
        const auto known = kept.find(time.photo);
        const bool same = known != kept.end() && known->second == time;
        if (!same) {
            Query(book, "INSERT OR REPLACE INTO true_time VALUES (?, ?, ?, ?, ?)")
                .with(time.photo.value, time.corrected_s, time.utc_s, time.u_s, time.how)
                .run();
            const bool moved = known == kept.end() || known->second.corrected_s != time.corrected_s ||
                               known->second.utc_s != time.utc_s;
            changed += moved ? 1 : 0;
        }
        if (known != kept.end()) {
            kept.erase(known);
        }
    }
    for (const auto& [photo, time] : kept) {
        Query(book, "DELETE FROM true_time WHERE photo = ?").with(photo.value).run();
    }
    return changed;
}

// "7", "03": digits only, at most four of them.
std::optional<int> part_from(const std::string& text) {
    constexpr std::size_t most_digits = 4;
    return text.size() <= most_digits ? whole_from(text) : std::nullopt;
}

}  // namespace

std::string words_of(const ClockWord& word) {
    return ahead_words(word.ahead_s, word.u_s);
}

std::string words_of(const ClockPiece& piece) {
    return piece.ahead_s ? ahead_words(*piece.ahead_s, piece.u_s.value_or(0)) : "not known";
}

void say_clock(Book& book, const ClockWord& word) {
    book.together([&] {
        Query own(book,
                  "SELECT 1 FROM photo JOIN camera ON camera.id = photo.camera WHERE photo.number = ? AND "
                  "coalesce(camera.joined, camera.id) = ?");
        own.with(word.photo.value, word.camera.value);
        if (!own.next()) {
            throw WrongUse(fmt::format("{} is no photo of camera {}: name one of its photos, or a time",
                                       word.photo.text(), word.camera.value));
        }
        const std::string before = words_at(book, word.camera, word.photo);
        const std::string now = now_utc();
        Query(book,
              "UPDATE clock_word SET taken_back_at = ? WHERE camera = ? AND photo = ? AND taken_back_at IS "
              "NULL")
            .with(now, word.camera.value, word.photo.value)
            .run();
        Query(book,
              "INSERT INTO clock_word (camera, photo, ahead_s, u_s, who, said_at) VALUES (?, ?, ?, ?, ?, ?)")
            .with(word.camera.value, word.photo.value, word.ahead_s, word.u_s, printable_name(word.who), now)
            .run();
        note_change(book, word.who, record_of(word.camera), "clock, said", before,
                    words_at(book, word.camera, word.photo), "a person's word");
    });
}

int take_back_clock_words(Book& book, CameraId camera, const std::string& who) {
    int taken_back = 0;
    book.together([&] {
        for (const ClockWord& word : clock_words(book)) {
            if (word.camera == camera) {
                Query(book, "UPDATE clock_word SET taken_back_at = ? WHERE id = ?")
                    .with(now_utc(), word.id)
                    .run();
                note_change(book, who, record_of(camera), "clock, said",
                            fmt::format("{} at {}", words_of(word), word.photo.text()), "",
                            "a person's word");
                ++taken_back;
            }
        }
    });
    return taken_back;
}

std::vector<ClockWord> clock_words(const Book& book) {
    Query query(
        book,
        "SELECT clock_word.id, coalesce(camera.joined, camera.id), ahead_s, u_s, photo, who, said_at FROM "
        "clock_word JOIN camera ON camera.id = clock_word.camera WHERE taken_back_at IS NULL ORDER BY "
        "clock_word.id");
    std::vector<ClockWord> words;
    while (query.next()) {
        words.push_back({query.whole(0),
                         {query.whole(1)},
                         query.real(2),
                         query.real(3),
                         {query.whole(4)},
                         query.text(5),
                         query.text(6)});
    }
    return words;
}

std::vector<ClockPiece> clock_pieces(const Book& book) {
    Query query(
        book,
        "SELECT camera, number, first_photo, last_photo, began, ahead_s, u_s, drift_s_per_day, how FROM "
        "clock_piece ORDER BY camera, number");
    std::vector<ClockPiece> pieces;
    while (query.next()) {
        pieces.push_back({{query.whole(0)},
                          query.small(1),
                          {query.whole(2)},
                          {query.whole(3)},
                          query.text(4),
                          query.maybe_real(5),
                          query.maybe_real(6),
                          query.maybe_real(7),
                          query.text(8)});
    }
    return pieces;
}

std::size_t replace_clocks(Book& book, const std::vector<ClockPiece>& pieces,
                           const std::vector<TrueTime>& times, const std::string& who) {
    std::size_t changed = 0;
    book.together([&] {
        replace_pieces(book, pieces, who);
        changed = replace_times(book, times);
    });
    return changed;
}

std::string time_span_words(double seconds) {
    constexpr long long minute = 60;
    constexpr long long hour = 60 * minute;
    constexpr long long day = 24 * hour;
    const long long whole = std::llround(std::min(std::abs(seconds), 1e15));
    const std::string days = whole >= day ? fmt::format("{} d ", whole / day) : "";
    const long long rest = whole % day;
    return whole >= hour
               ? fmt::format("{}{}:{:02}:{:02}", days, rest / hour, rest % hour / minute, rest % minute)
               : fmt::format("{}:{:02}", whole / minute, whole % minute);
}

std::optional<double> time_span_from(const std::string& text) {
    std::string typed = without_outer_spaces(text);
    if (!typed.empty() && typed.back() == 's') {
        const auto seconds = number_from(without_outer_spaces(typed.substr(0, typed.size() - 1)));
        return seconds && *seconds >= 0 ? seconds : std::nullopt;
    }
    std::vector<int> parts;
    for (std::size_t first = 0; first <= typed.size();) {
        const auto last = std::min(typed.find(':', first), typed.size());
        const auto part = part_from(typed.substr(first, last - first));
        if (!part || (!parts.empty() && (*part > 59 || last - first != 2))) {
            return std::nullopt;
        }
        parts.push_back(*part);
        first = last + 1;
    }
    if (parts.size() < 2 || parts.size() > 3) {
        return std::nullopt;
    }
    double seconds = 0;
    for (const int part : parts) {
        seconds = 60 * seconds + part;
    }
    return seconds;
}

}  // namespace stripbook::book
