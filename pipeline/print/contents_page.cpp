#include <algorithm>

#include "book/parts_tree.h"
#include "print/job_sections.h"
#include "print/report_sections.h"

namespace stripbook::print {

namespace {

struct Entry {
    std::string words;
    std::size_t level = 0;
    std::size_t page = 0;
};

// Every level of every assembly once, where its first part begins.
std::vector<Entry> assemblies(const JobContent& content) {
    std::vector<Entry> entries;
    std::vector<std::string> before;
    for (const auto& part : content.parts) {
        const auto levels = book::assembly_levels(part.part.assembly);
        if (levels.empty() && (entries.empty() || !before.empty())) {
            entries.push_back({"No assembly told", 0, part.page});
        }
        const auto same = static_cast<std::size_t>(
            std::mismatch(levels.begin(), levels.end(), before.begin(), before.end()).first - levels.begin());
        for (std::size_t level = same; level < levels.size(); ++level) {
            entries.push_back({levels[level], level, part.page});
        }
        before = levels;
    }
    return entries;
}

std::vector<Entry> sections_with_pages(const JobContent& content) {
    std::vector<Entry> entries;
    for (const auto& title : sections_of(content)) {
        const auto page = content.section_pages.find(title);
        entries.push_back({title, 0, page == content.section_pages.end() ? 0 : page->second});
    }
    return entries;
}

// Words, dots, page number; all of it can be clicked.
void draw_entry(JobDesk& desk, const Entry& entry) {
    constexpr double height = 6;
    constexpr double indent = 6;
    constexpr double number_width = 14;
    ReportFlow& flow = desk.flow;
    flow.reserve(height);
    const double left = flow.left() + indent * static_cast<double>(entry.level);
    const Type& type = entry.level == 0 ? type::body_bold : type::body;
    const std::string words = flow.lettering().cut(desk.printable(entry.words, "assembly"), type,
                                                   flow.right() - left - number_width - 4);
    const double baseline = flow.y() + 4.2;
    flow.sheet().text(left, baseline, words, type);
    const std::string number = std::to_string(entry.page + 1);
    const double number_left = flow.right() - flow.lettering().width_mm(number, type);
    const double dots_from = left + flow.lettering().width_mm(words, type) + 1.5;
    const double dot = flow.lettering().width_mm(" .", type::body);
    std::string dots;
    for (double x = dots_from; x + dot < number_left - 1; x += dot) {
        dots += " .";
    }
    flow.sheet().text_to_the_left_of(number_left - 1, baseline, dots, type::body);
    flow.sheet().text(number_left, baseline, number, type);
    desk.link({left, flow.y(), flow.right() - left, height}, entry.page);
    flow.move_down(height);
}

}  // namespace

void draw_contents(JobDesk& desk) {
    desk.flow.new_page();
    begin_section(desk, job_section::contents, 12);
    for (const auto& entry : sections_with_pages(desk.content)) {
        draw_entry(desk, entry);
    }
    small_heading(desk.flow, "The parts, by assembly", 12);
    for (const auto& entry : assemblies(desk.content)) {
        draw_entry(desk, entry);
    }
}

}  // namespace stripbook::print
