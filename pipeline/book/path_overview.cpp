#include "book/path_overview.h"

#include <algorithm>

#include "book/part_file.h"
#include "book/parts.h"
#include "book/parts_tree.h"
#include "book/sql_access.h"

namespace stripbook::book {

namespace {

struct Since {
    std::string at;
    int days = 0;
};

// When each part's path was last changed, else when its record was made.
std::map<std::string, Since> last_decisions(const Book& book) {
    Query query(
        book,
        "SELECT what, at, CAST(julianday('now') - julianday(at) AS INTEGER), MAX(id) FROM history WHERE "
        "field IN ('part', 'path') GROUP BY what");
    std::map<std::string, Since> decisions;
    while (query.next()) {
        decisions[query.text(0)] = {query.text(1), query.small(2)};
    }
    return decisions;
}

void add_up(AssemblySum& sum, const PartFile& file) {
    ++sum.parts;
    for (const auto& work : file.works) {
        if (work.dropped_why.empty()) {
            sum.hours_planned += work.hours.value_or(0);
            sum.hours_open += work.is_open() ? work.hours.value_or(0) : 0;
            sum.hours_taken += work.hours_taken.value_or(0);
        }
    }
    sum.price_cents += file.path.price_cents.value_or(0);
}

// Sums by the levels of the assembly, so that each stands before those within it.
class Sums {
  public:
    void add(const PartFile& file) {
        std::vector<std::string> levels = assembly_levels(file.part.assembly);
        for (std::size_t level = 0; level <= levels.size(); ++level) {
            const std::vector<std::string> upper(levels.begin(),
                                                 levels.begin() + static_cast<std::ptrdiff_t>(level));
            AssemblySum& sum = sums_[upper];
            sum.assembly = assembly_of(upper);
            sum.level = level;
            add_up(sum, file);
        }
    }
    [[nodiscard]] std::vector<AssemblySum> all() const {
        std::vector<AssemblySum> list;
        for (const auto& [levels, sum] : sums_) {
            list.push_back(sum);
        }
        return list;
    }

  private:
    std::map<std::vector<std::string>, AssemblySum> sums_;
};

}  // namespace

PathOverview path_overview(const Book& book, int days) {
    PathOverview overview;
    Sums sums;
    const auto decisions = last_decisions(book);
    for (const auto& part : all_parts(book)) {
        const auto file = gather_part(book, part.tag);
        ++overview.parts;
        ++overview.by_path[part.path];
        ++overview.by_path_and_stage[part.path][latest_stage(file)];
        sums.add(file);
        if (auto why = what_blocks_refitting(part, file.path, file.works); !why.empty()) {
            overview.blocked.emplace_back(part).why = std::move(why);
        }
        const auto since = decisions.find(part.tag.text());
        if (part.path == "undecided" && since != decisions.end() && since->second.days >= days) {
            auto& waiting = overview.waiting.emplace_back(part);
            waiting.since = since->second.at;
            waiting.days = since->second.days;
        }
    }
    std::stable_sort(overview.waiting.begin(), overview.waiting.end(),
                     [](const WaitingPart& a, const WaitingPart& b) { return a.days > b.days; });
    overview.sums = sums.all();
    return overview;
}

}  // namespace stripbook::book
