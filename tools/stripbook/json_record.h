// Inspection, path and completeness as JSON (docs/json.md).
#pragma once

#include <nlohmann/json.hpp>

#include "book/completeness.h"
#include "book/part_file.h"
#include "book/path_overview.h"

namespace stripbook::cli {

/// `findings`, `readings`, `limits`, `features`.
nlohmann::json inspection_json(const book::PartFile& file);
/// The record of the decision, and `work`.
nlohmann::json path_json(const book::PartFile& file);
nlohmann::json to_json(const book::Work& work);
nlohmann::json to_json(const book::Completeness& completeness);
nlohmann::json to_json(const book::PathOverview& overview);
nlohmann::json fasteners_json(const std::vector<book::BaggedFasteners>& fasteners);

}  // namespace stripbook::cli
