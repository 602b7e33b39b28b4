#include "show_record.h"

#include <fmt/format.h>

#include "book/judged_features.h"
#include "book/paths.h"
#include "measure/dimension.h"
#include "print/path_words.h"

namespace stripbook::cli {

namespace {

using book::printable_name;

void print_findings(const book::Inspection& inspection) {
    for (const auto& finding : inspection.findings) {
        if (finding.entry.stands()) {
            fmt::print("    [{}] {}  ({})\n", finding.entry.number, printable_name(book::words_of(finding)),
                       printable_name(print::by_and_when(finding.entry)));
        }
    }
}

void print_row(const print::FeatureRow& row) {
    const std::string entry = row.entry == 0 ? "" : fmt::format("[{}] ", row.entry);
    std::string line = fmt::format("{}{}: {}", entry, row.feature, row.value);
    for (const auto& more :
         {row.expanded.empty() ? "" : "U " + row.expanded, row.instrument, row.by_and_when}) {
        line += more.empty() ? "" : "  " + more;
    }
    fmt::print("    {}\n", printable_name(line));
    for (const auto& judgement : row.judgements) {
        fmt::print("        {}\n", printable_name(judgement));
    }
}

void print_features(const book::PartFile& file, const print::LengthStyle& style) {
    bool from_photos = false;
    bool judged = false;
    for (const auto& feature : book::judged_features(file.inspection, file.measurements)) {
        from_photos = from_photos || !feature.from_photos.empty();
        for (const auto& row : print::feature_rows(feature, style)) {
            print_row(row);
            judged = judged || (!row.judgements.empty() && !row.expanded.empty());
        }
    }
    if (judged) {
        fmt::print("    {}\n", print::judgement_note);
    }
    if (from_photos) {
        fmt::print("    {}\n", measure::no_gauge_note);
    }
}

template <typename Entries>
void print_struck(const Entries& entries) {
    for (const auto& one : entries) {
        if (!one.entry.stands()) {
            const std::string why =
                one.entry.why_corrected.empty() ? "" : ", " + printable_name(one.entry.why_corrected);
            fmt::print("    struck [{}] {}  (by entry {}{})\n", one.entry.number,
                       printable_name(book::words_of(one)), *one.entry.corrected_by, why);
        }
    }
}

}  // namespace

void print_inspection(const book::PartFile& file, const print::LengthStyle& style, bool struck_too) {
    if (file.inspection.empty()) {
        return;
    }
    fmt::print("  inspection\n");
    print_findings(file.inspection);
    print_features(file, style);
    if (struck_too) {
        print_struck(file.inspection.findings);
        print_struck(file.inspection.readings);
        print_struck(file.inspection.limits);
    }
}

void print_path(const book::PartFile& file, const std::string& currency) {
    fmt::print("  {:<10} {}\n", "path", file.part.path);
    for (const auto& line : print::path_lines(file.path, currency)) {
        fmt::print("             {}\n", printable_name(line));
    }
    for (const auto& work : file.works) {
        fmt::print("             work [{}] {}\n", work.number, printable_name(book::words_of(work)));
    }
}

void print_belongings(const book::PartFile& file) {
    if (file.part.parent) {
        fmt::print("  {:<10} {}\n", "taken from", file.part.parent->text());
    }
    for (const auto& tag : file.taken_from_it) {
        fmt::print("  {:<10} {}\n", "gave", tag.text());
    }
    for (const auto& bag : file.fasteners) {
        fmt::print("  {:<10} {} x {}\n", "bagged", bag.count, printable_name(bag.size));
    }
}

}  // namespace stripbook::cli
