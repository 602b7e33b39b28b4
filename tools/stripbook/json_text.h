// Records as JSON: the fields are written down in docs/json.md and scripts are built on them.
#pragma once

#include <nlohmann/json.hpp>
#include <vector>

#include "book/part_file.h"
#include "book/records.h"
#include "day/day_record.h"
#include "day/measure_day.h"
#include "day/read_day.h"

namespace stripbook::cli {

nlohmann::json to_json(const book::Part& part);
nlohmann::json to_json(const book::Sighting& sighting);
nlohmann::json to_json(const book::Link& link);
nlohmann::json to_json(const book::Unsettled& unsettled);
nlohmann::json to_json(const book::Photo& photo);
nlohmann::json to_json(const std::vector<book::Hazard>& hazards);
nlohmann::json to_json(const book::Book& book, const book::PartFile& file);
nlohmann::json to_json(const day::DayRecord& day, const day::LinkOutcome& linking,
                       const day::MeasureOutcome& measuring);

/// One document on standard output; text that is not UTF-8 is made so.
void print_json(const nlohmann::json& document);

}  // namespace stripbook::cli
