#include "book/stored_values.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <nlohmann/json.hpp>
#include <utility>

#include "book/paths.h"
#include "errors.h"

namespace stripbook::book {

namespace {

template <typename Value, std::size_t size>
using Words = std::array<std::pair<Value, const char*>, size>;

constexpr Words<FileKind, 3> kinds{
    {{FileKind::photo, "photo"}, {FileKind::video, "video"}, {FileKind::other, "other"}}};

constexpr Words<SightingKind, 6> sighting_kinds{{{SightingKind::tag, "tag"},
                                                 {SightingKind::scale_marker, "scale marker"},
                                                 {SightingKind::stage_card, "stage card"},
                                                 {SightingKind::clock_shot, "clock shot"},
                                                 {SightingKind::report, "report"},
                                                 {SightingKind::other_code, "other code"}}};

constexpr Words<ReadState, 3> read_states{
    {{ReadState::not_yet, "not yet"}, {ReadState::read, "read"}, {ReadState::damaged, "damaged"}}};

[[noreturn]] void damaged(const std::string& text) {
    constexpr std::size_t enough_bytes = 60;
    throw BookError(
        fmt::format("the book is damaged (it holds \"{}\" where that cannot be); keep this file and go "
                    "back to a copy",
                    printable_name(text.substr(0, enough_bytes))));
}

template <typename Value, std::size_t size>
std::string word_for(const Words<Value, size>& words, Value value) {
    const auto* const found =
        std::find_if(words.begin(), words.end(), [value](const auto& w) { return w.first == value; });
    return found == words.end() ? "" : found->second;
}

template <typename Value, std::size_t size>
Value value_for(const Words<Value, size>& words, const std::string& word) {
    const auto* const found =
        std::find_if(words.begin(), words.end(), [&word](const auto& w) { return word == w.second; });
    if (found == words.end()) {
        damaged(word);
    }
    return found->first;
}

template <typename Collection>
Collection from_json(const std::string& text) {
    try {
        return nlohmann::json::parse(text).get<Collection>();
    } catch (const nlohmann::json::exception&) {
        damaged(text);
    }
}

}  // namespace

number::TagNumber tag_from_stored(const std::string& text) {
    const auto tag = number::TagNumber::from_exact(text);
    if (!tag) {
        damaged(text);
    }
    return *tag;
}

std::string stored_list(const std::vector<std::string>& list) {
    return nlohmann::json(list).dump();
}

std::vector<std::string> list_from_stored(const std::string& text) {
    return from_json<std::vector<std::string>>(text);
}

std::string stored_map(const std::map<std::string, std::string>& map) {
    return nlohmann::json(map).dump();
}

std::map<std::string, std::string> map_from_stored(const std::string& text) {
    return from_json<std::map<std::string, std::string>>(text);
}

std::string stored_kind(FileKind kind) {
    return word_for(kinds, kind);
}

FileKind kind_from_stored(const std::string& text) {
    return value_for(kinds, text);
}

std::string stored_sighting_kind(SightingKind kind) {
    return word_for(sighting_kinds, kind);
}

SightingKind sighting_kind_from_stored(const std::string& text) {
    return value_for(sighting_kinds, text);
}

std::string stored_read_state(ReadState state) {
    return word_for(read_states, state);
}

ReadState read_state_from_stored(const std::string& text) {
    return value_for(read_states, text);
}

}  // namespace stripbook::book
