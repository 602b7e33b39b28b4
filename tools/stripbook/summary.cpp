#include "summary.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>
#include <string>
#include <vector>

#include "book/paths.h"
#include "command.h"
#include "dump/room_check.h"

namespace stripbook::cli {

namespace {

constexpr std::size_t most_examples = 6;

void line(const char* label, const std::string& text) {
    fmt::print("{:<13} {}\n", label, text);
}

// "a, b, c and 4 more".
std::string first_few(const std::vector<std::string>& items) {
    const std::size_t shown = std::min(items.size(), most_examples);
    std::string text =
        fmt::format("{}", fmt::join(items.begin(), items.begin() + static_cast<std::ptrdiff_t>(shown), ", "));
    return items.size() > shown ? fmt::format("{} and {} more", text, items.size() - shown) : text;
}

void print_files(const day::CardRecord& card, bool second_asked) {
    std::size_t proved = 0;
    std::size_t known = 0;
    std::size_t second = 0;
    for (const auto& record : card.files) {
        proved += record.file.failure.empty() ? 1 : 0;
        known += record.file.known ? 1 : 0;
        second += record.file.second_copy ? 1 : 0;
    }
    const auto& result = card.result;
    line("Card", fmt::format("{} (dump {})", book::printable_name(result.card.string()), result.dump.value));
    line("Copied",
         fmt::format("{} of {}, {}, read back and compared; {} new ({}), {} in the book already", proved,
                     counted(card.files.size(), "file", "files"), dump::size_text(result.bytes),
                     proved - std::min(proved, known), dump::size_text(result.bytes_new), known));
    if (second_asked) {
        line("Second copy", fmt::format("{} of {}, read back and compared", second,
                                        counted(card.files.size(), "file", "files")));
    }
}

void print_troubles(const day::CardRecord& card) {
    for (const auto& text : card.result.remarks) {
        line("Note", text);
    }
    for (const auto& text : card.result.left_out) {
        line("Left out", text);
    }
    for (const auto& record : card.files) {
        if (!record.file.failure.empty()) {
            line("NOT COPIED",
                 fmt::format("{}: {}", book::printable_name(record.file.name), record.file.failure));
        }
        if (!record.file.second_failure.empty()) {
            line("Second copy",
                 fmt::format("{}: {}", book::printable_name(record.file.name), record.file.second_failure));
        }
        const bool damaged = record.photo && record.photo->read_state == book::ReadState::damaged;
        if (damaged) {
            line("Unreadable", fmt::format("{} {}: {}", record.photo->number.text(),
                                           book::printable_name(record.file.name), record.photo->read_note));
        }
    }
}

void print_reading(const day::DayRecord& day) {
    std::set<std::string> tags;
    std::size_t unsure = 0;
    std::size_t markers = 0;
    for (const auto& card : day.cards) {
        for (const auto& record : card.files) {
            for (const auto& s : record.sightings) {
                if (s.kind == book::SightingKind::tag && s.confirmed) {
                    tags.insert(s.text);
                }
                unsure += s.kind == book::SightingKind::tag && !s.confirmed ? 1 : 0;
                markers += s.kind == book::SightingKind::scale_marker ? 1 : 0;
            }
        }
    }
    line("Read", fmt::format("{}: {}, {} not sure, {}",
                             counted(static_cast<std::size_t>(day.photos), "photo", "photos"),
                             counted(tags.size(), "tag number", "tag numbers"), unsure,
                             counted(markers, "scale marker", "scale markers")));
}

// Photos that need a person, grouped by reason, a line a reason.
void print_unsettled(const day::DayRecord& day) {
    std::vector<std::pair<std::string, std::vector<std::string>>> reasons;
    for (const auto& card : day.cards) {
        for (const auto& record : card.files) {
            if (!record.unsettled) {
                continue;
            }
            const auto& why = record.unsettled->why;
            auto it =
                std::find_if(reasons.begin(), reasons.end(), [&](const auto& r) { return r.first == why; });
            if (it == reasons.end()) {
                it = reasons.insert(reasons.end(), {why, {}});
            }
            const std::string number = record.unsettled->photo.text();
            if (std::find(it->second.begin(), it->second.end(), number) == it->second.end()) {
                it->second.push_back(number);
            }
        }
    }
    line("Needs you", counted(static_cast<std::size_t>(day.unsettled_photos), "photo", "photos"));
    std::size_t shown = 0;
    for (const auto& [why, numbers] : reasons) {
        if (shown++ == most_examples) {
            fmt::print("              ... and {}\n",
                       counted(reasons.size() - most_examples, "more reason", "more reasons"));
            break;
        }
        fmt::print("              {}: {}\n", first_few(numbers), why);
    }
    if (!reasons.empty()) {
        fmt::print("              stripbook unsettled groups them, the group that settles most first\n");
    }
}

// Codes that other makers printed and no part wears.
void print_strange_codes(const day::DayRecord& day) {
    std::vector<std::string> codes;
    for (const auto& [text, photos] : day.strange_codes) {
        constexpr std::size_t longest = 40;
        const std::string shown = text.size() > longest ? text.substr(0, longest) + "..." : text;
        codes.push_back(fmt::format("\"{}\" in {}", book::printable_name(shown), photos.front().text()));
    }
    if (!codes.empty()) {
        line("Other codes", first_few(codes));
        fmt::print(
            "              if a part wears one, write it into the column \"other tag\" of the parts list\n");
    }
}

// A late card may move earlier photos to other parts: nothing when it did not.
void print_changes(const LinkChanges& changes, std::size_t cards) {
    std::vector<std::string> words;
    for (const auto& [photo, tag] : changes.came) {
        words.push_back(fmt::format("{} now belongs to {}", photo.text(), tag.text()));
    }
    for (const auto& [photo, tag] : changes.went) {
        words.push_back(fmt::format("{} no longer belongs to {}", photo.text(), tag.text()));
    }
    if (!words.empty()) {
        line("Changed",
             fmt::format("{} changed {} of earlier photos: {}", cards == 1 ? "this card" : "these cards",
                         counted(words.size(), "link", "links"), first_few(words)));
    }
}

// Nothing when there was nothing to measure: most cards have no scale marker on them.
void print_measuring(const day::MeasureOutcome& measuring) {
    std::size_t measured = 0;
    std::map<std::string, std::vector<std::string>> refused;
    for (const auto& m : measuring.measured) {
        measured += m.refusal.empty() ? 1 : 0;
        if (!m.refusal.empty()) {
            refused[m.refusal].push_back(m.photo.text());
        }
    }
    if (measuring.measured.empty()) {
        return;
    }
    line("Measured", fmt::format("{} of {} with a scale marker (stripbook measure PHOTO shows them)",
                                 measured, counted(measuring.measured.size(), "photo", "photos")));
    for (const auto& [why, numbers] : refused) {
        fmt::print("              {}: {}\n", first_few(numbers), why);
    }
    for (const auto& words : measuring.contradictions) {
        line("Right tag?", words);
    }
}

}  // namespace

void print_summary(const day::DayRecord& day, const day::LinkOutcome& linking,
                   const day::MeasureOutcome& measuring, const LinkChanges& changes, bool second_asked) {
    for (const auto& card : day.cards) {
        print_files(card, second_asked);
        print_troubles(card);
    }
    print_reading(day);
    line("Linked", fmt::format("{} of {} to {}", day.linked_photos,
                               counted(static_cast<std::size_t>(day.photos), "photo", "photos"),
                               counted(day.linked_parts.size(), "part", "parts")));
    std::vector<std::string> fresh;
    for (const auto& tag : linking.new_parts) {
        fresh.push_back(tag.text());
    }
    print_changes(changes, day.cards.size());
    line("New parts",
         fresh.empty() ? "none" : fmt::format("{}: {}, name not yet known", fresh.size(), first_few(fresh)));
    for (const auto& [code, count] : day.other_books) {
        line("Other book", fmt::format("{} of {}: right book?",
                                       counted(static_cast<std::size_t>(count), "tag", "tags"), code));
    }
    print_strange_codes(day);
    print_measuring(measuring);
    print_unsettled(day);
    for (const auto& card : day.cards) {
        line("Wipe?", day.cards.size() == 1
                          ? card.verdict.sentence
                          : fmt::format("{}: {}", book::printable_name(card.result.card.string()),
                                        card.verdict.sentence));
    }
}

int status_of(const day::DayRecord& day) {
    int status = done;
    for (const auto& card : day.cards) {
        for (const auto& record : card.files) {
            if (!record.file.failure.empty() || !record.file.second_failure.empty()) {
                return failed;
            }
            const bool damaged = record.photo && record.photo->read_state == book::ReadState::damaged;
            status = record.unsettled || damaged ? needs_a_person : status;
        }
        const bool all_well = card.result.every_file_proved && !card.verdict.may_be_no_card;
        status = all_well || status != done ? status : needs_a_person;
    }
    return status;
}

}  // namespace stripbook::cli
