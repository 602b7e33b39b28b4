// How far the work is, drawn: a bar for each path, parted by stage. Stages are told apart by hatching and
// words, never by colour.
#pragma once

#include <map>
#include <string>

#include "print/report_flow.h"

namespace stripbook::print {

/// Parts by path and stage; stage "": not known.
using ProgressCounts = std::map<std::string, std::map<std::string, int>>;

/// As high as `progress_chart_height`, kept on one page, with its legend below. Every path of the book has
/// its bar, also an empty one.
void draw_progress_chart(ReportFlow& flow, const ProgressCounts& counts);
double progress_chart_height();

}  // namespace stripbook::print
