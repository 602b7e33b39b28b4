#include "json_text.h"

#include <fmt/format.h>

#include "book/clock.h"
#include "book/paths.h"
#include "json_record.h"

namespace stripbook::cli {

using nlohmann::json;

namespace {

const char* word(book::SightingKind kind) {
    switch (kind) {
        case book::SightingKind::tag:
            return "tag";
        case book::SightingKind::scale_marker:
            return "scale marker";
        case book::SightingKind::stage_card:
            return "stage card";
        case book::SightingKind::clock_shot:
            return "clock shot";
        case book::SightingKind::report:
            return "report";
        case book::SightingKind::other_code:
            break;
    }
    return "other code";
}

const char* word(book::FileKind kind) {
    return kind == book::FileKind::photo ? "photo" : kind == book::FileKind::video ? "video" : "other";
}

const char* word(book::ReadState state) {
    return state == book::ReadState::read      ? "read"
           : state == book::ReadState::damaged ? "damaged"
                                               : "not yet";
}

template <typename T>
json or_null(const std::optional<T>& value) {
    return value ? json(*value) : json(nullptr);
}

json tag_texts(const std::vector<number::TagNumber>& tags) {
    json list = json::array();
    for (const auto& tag : tags) {
        list.push_back(tag.text());
    }
    return list;
}

}  // namespace

json to_json(const book::Part& part) {
    return {{"tag", part.tag.text()},
            {"name", part.name},
            {"assembly", part.assembly},
            {"place", part.place},
            {"storage", part.storage},
            {"quantity_expected", or_null(part.quantity_expected)},
            {"quantity_present", or_null(part.quantity_present)},
            {"face_height_mm", or_null(part.face_height_mm)},
            {"condition", part.condition},
            {"path", part.path},
            {"other_tag", part.other_tag},
            {"notes", part.notes},
            {"parent", part.parent ? json(part.parent->text()) : json(nullptr)},
            {"listed", part.listed}};
}

json to_json(const book::Sighting& s) {
    json corners = json::array();
    for (const auto& c : s.corners_px) {
        corners.push_back({c.x, c.y});
    }
    return {{"kind", word(s.kind)}, {"text", s.text},   {"confirmed", s.confirmed},
            {"how", s.how},         {"doubt", s.doubt}, {"suggestions", s.suggestions},
            {"corners_px", corners}};
}

json to_json(const book::Link& link) {
    return {{"photo", link.photo.text()},
            {"tag", link.tag.text()},
            {"why", link.why},
            {"sure", book::sure_word(link)},
            {"by_person", link.by_person}};
}

json to_json(const book::Unsettled& u) {
    return {{"photo", u.photo.text()}, {"why", u.why}, {"suggestions", tag_texts(u.suggestions)}};
}

json to_json(const book::Photo& p) {
    return {{"photo", p.number.text()},
            {"name", p.name_on_card},
            {"stored", p.original.stored_path},
            {"kind", word(p.original.kind)},
            {"sha256", p.original.sha256},
            {"camera", p.camera_words},
            {"camera_time", p.camera_time.text},
            {"camera_time_source", p.camera_time.source},
            {"corrected_time", book::time_words(p.corrected_seconds).value_or("")},
            {"utc", p.utc_s ? json(book::time_words(*p.utc_s).value_or("") + "Z") : json(nullptr)},
            {"utc_u_s", or_null(p.utc_u_s)},
            {"utc_how", p.utc_how},
            {"width_px", p.width_px},
            {"height_px", p.height_px},
            {"orientation", p.orientation},
            {"read", word(p.read_state)},
            {"read_note", p.read_note}};
}

json to_json(const std::vector<book::Hazard>& hazards) {
    json list = json::array();
    for (const auto& hazard : hazards) {
        list.push_back({{"kind", hazard.kind},
                        {"mass_kg", or_null(hazard.mass_kg)},
                        {"note", hazard.note},
                        {"who", hazard.who},
                        {"at", hazard.at},
                        {"caution", book::cautions_for({hazard}).front()}});
    }
    return list;
}

json to_json(const book::Book& book, const book::PartFile& file) {
    json j = to_json(file.part);
    j["photos"] = json::array();
    for (const auto& p : file.photos) {
        json photo = to_json(p.photo);
        photo["path"] = (book.folder() / p.photo.original.stored_path).string();
        photo["stage"] = p.stage;
        photo["stage_by_person"] = p.stage_by_person;
        photo["stage_why"] = p.stage_why;
        photo["on_bench"] = p.on_bench;
        photo["why"] = p.link.why;
        photo["sure"] = book::sure_word(p.link);
        j["photos"].push_back(photo);
    }
    j["hazards"] = to_json(file.hazards);
    j["inspection"] = inspection_json(file);
    j["path_record"] = path_json(file);
    j["taken_from_it"] = tag_texts(file.taken_from_it);
    j["bagged"] = fasteners_json(file.fasteners);
    j["history"] = json::array();
    for (const auto& c : file.history) {
        j["history"].push_back({{"at", c.at},
                                {"who", c.who},
                                {"field", c.field},
                                {"before", c.before},
                                {"after", c.after},
                                {"how", c.how}});
    }
    return j;
}

static json to_json(const day::FileRecord& record);
static json to_json(const day::CardRecord& card);

template <typename T>
static json list_of(const std::vector<T>& items) {
    json list = json::array();
    for (const auto& item : items) {
        list.push_back(to_json(item));
    }
    return list;
}

static json to_json(const day::FileRecord& record) {
    const auto& file = record.file;
    json j{{"name", book::printable_name(file.name)},
           {"bytes", file.bytes},
           {"sha256", file.sha256},
           {"known", file.known},
           {"second_copy", file.second_copy},
           {"failure", file.failure},
           {"second_failure", file.second_failure},
           {"sightings", list_of(record.sightings)},
           {"links", list_of(record.links)},
           {"unsettled", record.unsettled ? to_json(*record.unsettled) : json(nullptr)}};
    if (record.photo) {
        j.update(to_json(*record.photo));
        j["name"] = book::printable_name(file.name);
    }
    return j;
}

static json to_json(const day::CardRecord& card) {
    const auto& result = card.result;
    return {{"card", book::printable_name(result.card.string())},
            {"dump", result.dump.value},
            {"bytes", result.bytes},
            {"bytes_new", result.bytes_new},
            {"seconds", result.seconds},
            {"may_be_wiped", card.verdict.may_be_wiped},
            {"verdict", card.verdict.sentence},
            {"left_out", result.left_out},
            {"remarks", result.remarks},
            {"files", list_of(card.files)}};
}

json to_json(const day::DayRecord& day, const day::LinkOutcome& linking,
             const day::MeasureOutcome& measuring) {
    json measured = json::array();
    for (const auto& m : measuring.measured) {
        measured.push_back({{"photo", m.photo.text()},
                            {"tag", m.tag.text()},
                            {"dimensions", m.dimensions.size()},
                            {"refusal", m.refusal}});
    }
    json parts = json::array();
    for (const auto& tag : day.linked_parts) {
        parts.push_back(tag.text());
    }
    json strange = json::array();
    for (const auto& [text, photos] : day.strange_codes) {
        json numbers = json::array();
        for (const auto& photo : photos) {
            numbers.push_back(photo.text());
        }
        strange.push_back({{"text", text}, {"photos", numbers}});
    }
    return {{"cards", list_of(day.cards)},
            {"photos", day.photos},
            {"linked_photos", day.linked_photos},
            {"linked_parts", parts},
            {"unsettled_photos", day.unsettled_photos},
            {"new_parts", tag_texts(linking.new_parts)},
            {"measured", measured},
            {"contradictions", measuring.contradictions},
            {"strange_codes", strange},
            {"other_books", day.other_books}};
}

void print_json(const json& document) {
    fmt::print("{}\n", document.dump(2, ' ', false, json::error_handler_t::replace));
}

}  // namespace stripbook::cli
