// The sections of the pages before the parts. Each draws itself where the flow stands.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "print/bookmark.h"
#include "print/job_content.h"
#include "print/joined_pdf.h"
#include "print/printable_text.h"
#include "print/report_flow.h"

namespace stripbook::print {

struct JobDesk {
    const JobContent& content;
    ReportFlow& flow;
    PrintableText& printable;
    std::vector<Bookmark> bookmarks{};
    std::vector<PageLink> links{};

    /// A line of the contents, or a row of a table, leads to a page.
    void link(const BoxMm& box, std::size_t to_page) {
        links.push_back({flow.page(), box, to_page, flow.body_top()});
    }
};

namespace job_section {
inline constexpr const char* contents = "Contents";
inline constexpr const char* progress = "How far the work is";
inline constexpr const char* completeness = "Expected and present";
inline constexpr const char* hazards = "Hazards";
inline constexpr const char* costs = "Hours and costs";
inline constexpr const char* parts = "All parts";
}  // namespace job_section

/// The sections that this content has, in their order, without the contents.
std::vector<std::string> sections_of(const JobContent& content);

/// A section begins: heading, bookmark. `mm`: what must stand with the heading on one page.
void begin_section(JobDesk& desk, const char* title, double mm);

void draw_title_page(JobDesk& desk);
void draw_contents(JobDesk& desk);
void draw_progress(JobDesk& desk);
void draw_completeness(JobDesk& desk);
void draw_hazards(JobDesk& desk);
void draw_costs(JobDesk& desk);
void draw_all_parts(JobDesk& desk);

}  // namespace stripbook::print
