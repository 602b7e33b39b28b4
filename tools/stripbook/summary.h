// The ten lines at day's end.
#pragma once

#include "day/day_record.h"
#include "day/measure_day.h"
#include "day/read_day.h"
#include "link_changes.h"

namespace stripbook::cli {

/// Files and bytes, new and known, photos linked to how many parts, new parts, what was measured,
/// `changes` of earlier photos' links, what needs a person, and whether each card may be wiped.
void print_summary(const day::DayRecord& day, const day::LinkOutcome& linking,
                   const day::MeasureOutcome& measuring, const LinkChanges& changes, bool second_asked);

/// done, needs_a_person when a photo of these cards is unsettled, or failed when a file was not taken in.
int status_of(const day::DayRecord& day);

}  // namespace stripbook::cli
