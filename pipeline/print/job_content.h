// What the pages before the parts show in a report of an assembly or of the whole job. Plain values.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <vector>

#include "book/completeness.h"
#include "book/hazards.h"
#include "book/path_overview.h"
#include "book/records.h"
#include "photo/print_copy.h"
#include "print/progress_chart.h"

namespace stripbook::print {

/// One part in the tables.
struct JobPart {
    explicit JobPart(book::Part p) : part(std::move(p)) {}
    book::Part part;
    std::string stage;  ///< empty: not known
    std::size_t photos = 0;
    std::size_t findings = 0;  ///< that stand
    std::vector<book::Hazard> hazards;
    std::size_t page = 0;  ///< its first, in the whole document, from 0; filled when it is drawn
};

/// A photo for the title page.
struct Cover {
    photo::PrintCopy copy;
    int orientation = 1;
    std::string caption;
};

struct JobContent {
    std::string machine;
    std::string book_code;
    std::string workshop;  ///< may be empty
    std::string assembly;  ///< empty: the whole job
    std::string date;
    std::string program;
    std::string currency;
    bool for_donor = false;
    bool with_costs = false;  ///< hours and prices are shown
    std::optional<Cover> cover;
    std::vector<JobPart> parts;  ///< in the order of the report
    std::vector<book::Completeness> completeness;
    std::vector<book::AssemblySum> sums;
    /// Where the sections of these pages begin, by title: from an earlier drawing of them.
    std::map<std::string, std::size_t> section_pages;
};

}  // namespace stripbook::print
