// stripbook report: condition reports as PDF.
#include <fmt/format.h>

#include <chrono>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <vector>

#include "book/part_file.h"
#include "book/parts.h"
#include "book/paths.h"
#include "command.h"
#include "errors.h"
#include "json_text.h"
#include "print/condition_report.h"
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
        throw WrongUse("name the parts by their tags, or say --all");
    }
    std::vector<number::TagNumber> tags;
    if (typed.all) {
        for (const auto& part : book::all_parts(book)) {
            tags.push_back(part.tag);
        }
        return tags;
    }
    for (const auto& tag : typed.tags) {
        tags.push_back(number::TagNumber::from_typed(tag, book.code()));
    }
    return tags;
}

fs::path file_for(const book::Book& book, const number::TagNumber& tag, const Typed& typed,
                  std::size_t reports) {
    const fs::path out = typed.out.empty() ? book.folder() / book::reports_folder : fs::path(typed.out);
    if (out.extension() == ".pdf") {
        if (reports != 1) {
            throw WrongUse("--out names one PDF, but there are several reports; name a folder instead");
        }
        return out;
    }
    std::error_code failure;
    fs::create_directories(out, failure);
    if (failure) {
        throw OutsideError(fmt::format("the folder {} cannot be made ({}); choose another place with --out",
                                       out.string(), failure.message()));
    }
    return out / (tag.text() + ".pdf");
}

void print_result(const print::ReportResult& result) {
    fmt::print("{}: {}, {}\n", result.file.string(),
               counted(static_cast<std::size_t>(result.pages), "page", "pages"),
               counted(static_cast<std::size_t>(result.photos), "photo", "photos"));
    for (const auto& remark : result.remarks) {
        fmt::print("    note: {}\n", remark);
    }
}

void report(const Typed& typed, Context& context) {
    if (typed.with_costs && typed.reader.empty()) {
        throw WrongUse("--with-costs goes with --for donor; the workshop's own report has the costs anyway");
    }
    const auto book = open_book(context, book::Access::read, "report");
    print::ReportOptions options;
    options.date = typed.date.empty() ? today() : checked_date(typed.date);
    options.version = STRIPBOOK_VERSION;
    options.letter = typed.paper == "letter";
    options.stop = stop_requested;
    options.for_donor = !typed.reader.empty();
    options.with_costs = typed.with_costs;
    auto written = nlohmann::json::array();
    const auto tags = wanted_tags(book, typed);
    for (const auto& tag : tags) {
        const auto part = book::gather_part(book, tag);
        const auto result =
            print::write_condition_report(book, part, file_for(book, tag, typed, tags.size()), options);
        if (context.json) {
            written.push_back({{"tag", tag.text()},
                               {"file", result.file.string()},
                               {"pages", result.pages},
                               {"photos", result.photos},
                               {"remarks", result.remarks}});
        } else {
            print_result(result);
        }
        context.status = result.remarks.empty() ? context.status : needs_a_person;
    }
    if (context.json) {
        print_json({{"reports", written}});
    } else if (tags.empty()) {
        fmt::print("the book has no parts yet\n");
    }
}

}  // namespace

void add_report(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command = add_command(app, context, "report", "write condition reports as PDF, one a part");
    command->add_option("tag", typed->tags, "tag numbers: PET-00417-D, PET-00417 or 417");
    command->add_flag("--all", typed->all, "every part of the book");
    command->add_option("--out", typed->out, "folder, or one .pdf file (default: the book's reports folder)");
    command->add_option("--date", typed->date, "date printed on the report (default: today)");
    command->add_option("--paper", typed->paper, "a4 or letter")->check(CLI::IsMember({"a4", "letter"}));
    command->add_option("--for", typed->reader, "donor: leave out storage, names, notes, history and costs")
        ->check(CLI::IsMember({"donor"}));
    command->add_flag("--with-costs", typed->with_costs, "with --for donor: show prices and hours");
    command->callback([typed, &context] { report(*typed, context); });
}

}  // namespace stripbook::cli
