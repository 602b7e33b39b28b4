#include "json_record.h"

#include "book/judged_features.h"
#include "number/money.h"

namespace stripbook::cli {

namespace {

using nlohmann::json;

template <typename Value>
json or_null(const std::optional<Value>& value) {
    return value ? json(*value) : json(nullptr);
}

json entry_json(const book::InspectionEntry& entry) {
    return {{"entry", entry.number},
            {"by", entry.by},
            {"on", entry.on},
            {"entered_at", entry.at},
            {"entered_by", entry.who},
            {"corrects", or_null(entry.corrects)},
            {"corrected_by", or_null(entry.corrected_by)},
            {"why_corrected", entry.why_corrected}};
}

json to_json(const book::Finding& finding) {
    json j = entry_json(finding.entry);
    j["kind"] = finding.kind;
    j["where"] = finding.where;
    j["how_bad"] = finding.how_bad;
    j["photos"] = json::array();
    for (const auto& photo : finding.photos) {
        j["photos"].push_back(photo.text());
    }
    return j;
}

json to_json(const book::GaugeReading& reading) {
    json j = entry_json(reading.entry);
    j.update({{"feature", reading.feature},
              {"at", reading.spot},
              {"value_mm", reading.value_mm},
              {"typed", reading.typed},
              {"u_mm", or_null(reading.u_mm)},
              {"instrument", reading.instrument}});
    return j;
}

json to_json(const book::GaugeLimit& limit) {
    json j = entry_json(limit.entry);
    j.update({{"feature", limit.feature},
              {"of", limit.of_spread ? "spread" : "value"},
              {"at_least_mm", or_null(limit.lower_mm)},
              {"at_most_mm", or_null(limit.upper_mm)},
              {"at_least_typed", limit.lower_typed},
              {"at_most_typed", limit.upper_typed},
              {"source", limit.source}});
    return j;
}

json to_json(const std::vector<book::Judgement>& judgements) {
    json list = json::array();
    for (const auto& j : judgements) {
        list.push_back({{"limit", j.limit.entry.number},
                        {"verdict", j.verdict},
                        {"because", j.because},
                        {"chance_within", or_null(j.chance_within)}});
    }
    return list;
}

json to_json(const book::JudgedFeature& feature) {
    json j{{"feature", feature.feature},
           {"readings", json::array()},
           {"spread", nullptr},
           {"from_photos", json::array()}};
    for (const auto& judged : feature.readings) {
        j["readings"].push_back({{"entry", judged.reading.entry.number},
                                 {"value_mm", judged.reading.value_mm},
                                 {"U_mm", or_null(judged.expanded_mm)},
                                 {"judged", to_json(judged.judgements)}});
    }
    if (feature.spread) {
        j["spread"] = {{"value_mm", feature.spread->mm},
                       {"U_mm", or_null(feature.spread->expanded_mm)},
                       {"judged", to_json(feature.spread->judgements)}};
    }
    for (const auto& dimension : feature.from_photos) {
        j["from_photos"].push_back({{"photo", dimension.photo.text()},
                                    {"name", dimension.name},
                                    {"value_mm", dimension.mm},
                                    {"U_mm", dimension.expanded_mm},
                                    {"judged", to_json(dimension.judgements)}});
    }
    return j;
}

using cli::to_json;  // those of the header, which the ones above would hide

template <typename T>
json list_of(const std::vector<T>& items) {
    json list = json::array();
    for (const auto& item : items) {
        list.push_back(to_json(item));
    }
    return list;
}

json money_or_null(const std::optional<std::int64_t>& cents) {
    return cents ? json(number::money_text(*cents, "")) : json(nullptr);
}

}  // namespace

json inspection_json(const book::PartFile& file) {
    return {{"findings", list_of(file.inspection.findings)},
            {"readings", list_of(file.inspection.readings)},
            {"limits", list_of(file.inspection.limits)},
            {"features", list_of(book::judged_features(file.inspection, file.measurements))}};
}

json to_json(const book::Work& work) {
    return {{"number", work.number},          {"work", work.work},
            {"hours", or_null(work.hours)},   {"done_on", work.done_on},
            {"done_by", work.done_by},        {"hours_taken", or_null(work.hours_taken)},
            {"dropped_why", work.dropped_why}};
}

json path_json(const book::PartFile& file) {
    const auto& path = file.path;
    return {{"path", file.part.path},
            {"why", path.why},
            {"by", path.by},
            {"at", path.at},
            {"from", path.from_whom},
            {"price", money_or_null(path.price_cents)},
            {"ordered", path.ordered_on},
            {"received", path.received_on},
            {"drawing", path.drawing},
            {"material", path.material},
            {"work", list_of(file.works)},
            {"blocks_refitting", book::what_blocks_refitting(file.part, path, file.works)}};
}

json to_json(const book::Completeness& c) {
    json tags = json::array();
    for (const auto& tag : c.tags) {
        tags.push_back(tag.text());
    }
    return {{"name", c.name},
            {"assembly", c.assembly},
            {"expected", c.expected},
            {"present", c.present},
            {"tagged", c.tagged},
            {"not_seen_yet", c.not_seen_yet},
            {"each", c.each},
            {"to_each", c.to_each},
            {"short_in", c.short_in},
            {"words", book::words_of(c)},
            {"tags", tags}};
}

json to_json(const book::PathOverview& overview) {
    json blocked = json::array();
    for (const auto& one : overview.blocked) {
        blocked.push_back({{"tag", one.part.tag.text()}, {"name", one.part.name}, {"why", one.why}});
    }
    json waiting = json::array();
    for (const auto& one : overview.waiting) {
        waiting.push_back({{"tag", one.part.tag.text()},
                           {"name", one.part.name},
                           {"since", one.since},
                           {"days", one.days}});
    }
    json sums = json::array();
    for (const auto& sum : overview.sums) {
        sums.push_back({{"assembly", sum.assembly},
                        {"parts", sum.parts},
                        {"hours_planned", sum.hours_planned},
                        {"hours_open", sum.hours_open},
                        {"hours_taken", sum.hours_taken},
                        {"price", number::money_text(sum.price_cents, "")}});
    }
    return {{"parts", overview.parts},
            {"by_path", overview.by_path},
            {"by_path_and_stage", overview.by_path_and_stage},
            {"blocked", blocked},
            {"undecided", waiting},
            {"assemblies", sums}};
}

json fasteners_json(const std::vector<book::BaggedFasteners>& fasteners) {
    json list = json::array();
    for (const auto& bag : fasteners) {
        list.push_back({{"size", bag.size}, {"count", bag.count}});
    }
    return list;
}

}  // namespace stripbook::cli
