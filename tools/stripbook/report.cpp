// stripbook report: condition reports as PDF.
#include <fmt/format.h>

#include <cctype>
#include <chrono>
#include <cstdint>
#include <cstdio>
#include <filesystem>
#include <functional>
#include <memory>
#include <vector>

#include "book/part_file.h"
#include "book/parts.h"
#include "book/parts_tree.h"
#include "book/paths.h"
#include "book/photos.h"
#include "book/tag_meanings.h"
#include "command.h"
#include "errors.h"
#include "json_text.h"
#include "print/condition_report.h"
#include "print/job_report.h"
#include "print/size_limit.h"
#include "print_job.h"
#include "terminal.h"

namespace stripbook::cli {

namespace {

namespace fs = std::filesystem;

struct Typed {
    std::vector<std::string> tags;
    bool all = false;
    std::string out;
    std::string date;
    std::string paper = "a4";
    std::string reader;
    bool with_costs = false;
    bool job = false;
    std::string assembly;
    std::string cover;
    std::uint64_t most_bytes = 0;  ///< 0: no limit
};

// YYYY-MM-DD of a day that exists.
std::string checked_date(const std::string& text) {
    int year = 0;
    unsigned month = 0;
    unsigned day = 0;
    char rest = 0;
    const bool shaped =
        text.size() == 10 && std::sscanf(text.c_str(), "%4d-%2u-%2u%c", &year, &month, &day, &rest) == 3;
    const std::chrono::year_month_day date{std::chrono::year(year), std::chrono::month(month),
                                           std::chrono::day(day)};
    if (!shaped || !date.ok()) {
        throw WrongUse(fmt::format("\"{}\" is not a date; write it as 2026-11-25", text));
    }
    return text;
}

std::vector<number::TagNumber> wanted_tags(const book::Book& book, const Typed& typed) {
    if (typed.all == !typed.tags.empty()) {
        throw WrongUse("name the parts by their tags, or say --all, --assembly or --job");
    }
    std::vector<number::TagNumber> tags;
    if (typed.all) {
        for (const auto& part : book::all_parts(book)) {
            tags.push_back(part.tag);
        }
        return tags;
    }
    for (const auto& tag : typed.tags) {
        tags.push_back(book::part_from_typed(book, tag));
    }
    return tags;
}

// Made if missing.
fs::path folder_for(const book::Book& book, const Typed& typed) {
    fs::path out = typed.out.empty() ? book.folder() / book::reports_folder : fs::path(typed.out);
    std::error_code failure;
    fs::create_directories(out, failure);
    if (failure) {
        throw OutsideError(fmt::format("the folder {} cannot be made ({}); choose another place with --out",
                                       out.string(), failure.message()));
    }
    return out;
}

fs::path file_for(const book::Book& book, const number::TagNumber& tag, const Typed& typed,
                  std::size_t reports) {
    if (fs::path out(typed.out); out.extension() == ".pdf") {
        if (reports != 1) {
            throw WrongUse("--out names one PDF, but there are several reports; name a folder instead");
        }
        return out;
    }
    // The donor's must not take the place of the workshop's own.
    return folder_for(book, typed) / (tag.text() + (typed.reader.empty() ? "" : "-donor") + ".pdf");
}

// "job.pdf", "assembly-running-gear-axle-2.pdf".
fs::path job_file_for(const book::Book& book, const Typed& typed) {
    if (fs::path out(typed.out); out.extension() == ".pdf") {
        return out;
    }
    std::string name = "job";
    if (!typed.assembly.empty()) {
        name = "assembly";
        for (const char c : "-" + typed.assembly) {
            const bool plain = std::isalnum(static_cast<unsigned char>(c)) != 0 ||
                               static_cast<unsigned char>(c) >= 0x80U;  // of a letter in UTF-8
            if (plain || name.back() != '-') {
                name += plain ? c : '-';
            }
        }
    }
    return folder_for(book, typed) / (name + (typed.reader.empty() ? "" : "-donor") + ".pdf");
}

void print_result(const print::ReportResult& result) {
    fmt::print("{}: {}, {}\n", result.file.string(),
               counted(static_cast<std::size_t>(result.pages), "page", "pages"),
               counted(static_cast<std::size_t>(result.photos), "photo", "photos"));
    if (!result.why_not_archival.empty()) {
        fmt::print("    not PDF/A (the kind of PDF made for archives): {}\n", result.why_not_archival);
    }
    for (const auto& remark : result.remarks) {
        fmt::print("    note: {}\n", remark);
    }
}

print::ReportOptions options_of(const Typed& typed) {
    if (typed.with_costs && typed.reader.empty()) {
        throw WrongUse("--with-costs goes with --for donor; the workshop's own report has the costs anyway");
    }
    print::ReportOptions options;
    options.date = typed.date.empty() ? today() : checked_date(typed.date);
    options.version = STRIPBOOK_VERSION;
    options.letter = typed.paper == "letter";
    options.stop = stop_requested;
    options.for_donor = !typed.reader.empty();
    options.with_costs = typed.with_costs;
    return options;
}

print::ReportResult written(const Typed& typed, const print::ReportOptions& options,
                            const std::function<print::ReportResult(const print::ReportOptions&)>& write) {
    return typed.most_bytes == 0 ? write(options) : print::write_within(typed.most_bytes, options, write);
}

// Says what was written, on the terminal or as one entry of the JSON answer.
void tell(const print::ReportResult& result, nlohmann::json entry, nlohmann::json& entries,
          Context& context) {
    if (context.json) {
        entry.update({{"file", result.file.string()},
                      {"pages", result.pages},
                      {"photos", result.photos},
                      {"remarks", result.remarks},
                      {"pdf_a", result.why_not_archival.empty()},
                      {"why_not_pdf_a", result.why_not_archival}});
        entries.push_back(std::move(entry));
    } else {
        print_result(result);
    }
    context.status = result.remarks.empty() ? context.status : needs_a_person;
}

void report_parts(const book::Book& book, const Typed& typed, nlohmann::json& entries, Context& context) {
    const auto options = options_of(typed);
    const auto tags = wanted_tags(book, typed);
    for (const auto& tag : tags) {
        const auto part = book::gather_part(book, tag);
        const auto file = file_for(book, tag, typed, tags.size());
        const auto result = written(typed, options, [&](const print::ReportOptions& these) {
            return print::write_condition_report(book, part, file, these);
        });
        tell(result, {{"tag", tag.text()}}, entries, context);
    }
    if (tags.empty() && !context.json) {
        fmt::print("the book has no parts yet\n");
    }
}

void report_job(const book::Book& book, const Typed& typed, nlohmann::json& entries, Context& context) {
    if (!typed.tags.empty() || typed.all || (typed.job && !typed.assembly.empty())) {
        throw WrongUse("one report at a time: parts by their tags or --all, or --assembly, or --job");
    }
    const auto file = job_file_for(book, typed);
    const auto result = written(typed, options_of(typed), [&](const print::ReportOptions& these) {
        Progress progress("Drawing", false);
        print::JobReportOptions options;
        options.report = these;
        options.assembly = book::assembly_of(book::assembly_levels(typed.assembly));
        options.progress = [&](std::size_t done, std::size_t all) { progress.show(done, all); };
        if (!typed.cover.empty()) {
            options.cover = book::photo_from_typed(book, typed.cover);
        }
        return print::write_job_report(book, file, options);
    });
    tell(result, {{"assembly", typed.assembly}}, entries, context);
}

void report(const Typed& typed, Context& context) {
    const auto book = open_book(context, book::Access::read, "report");
    auto entries = nlohmann::json::array();
    if (typed.job || !typed.assembly.empty()) {
        report_job(book, typed, entries, context);
    } else {
        report_parts(book, typed, entries, context);
    }
    if (context.json) {
        print_json({{"reports", entries}});
    }
}

}  // namespace

void add_report(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "report", "write condition reports as PDF: of parts, an assembly, the job");
    command->add_option("tag", typed->tags, "tag numbers: PET-00417-D, PET-00417 or 417");
    command->add_flag("--all", typed->all, "every part of the book, a PDF each");
    command->add_flag("--job", typed->job, "the whole job in one PDF");
    command->add_option("--assembly", typed->assembly, "an assembly and all within it in one PDF");
    command->add_option("--cover", typed->cover,
                        "with --job or --assembly: the photo of the title page, p12");
    command
        ->add_option("--max-size", typed->most_bytes,
                     "as large as a mail takes, 10MB: photos get fewer dots until it fits")
        ->transform(CLI::AsSizeValue(true));
    command->add_option("--out", typed->out, "folder, or one .pdf file (default: the book's reports folder)");
    command->add_option("--date", typed->date, "date printed on the report (default: today)");
    command->add_option("--paper", typed->paper, "a4 or letter")->check(CLI::IsMember({"a4", "letter"}));
    command->add_option("--for", typed->reader, "donor: leave out storage, names, notes, history and costs")
        ->check(CLI::IsMember({"donor"}));
    command->add_flag("--with-costs", typed->with_costs, "with --for donor: show prices and hours");
    command->callback([typed, &context] { report(*typed, context); });
}

}  // namespace stripbook::cli
