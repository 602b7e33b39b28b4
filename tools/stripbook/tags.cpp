// stripbook tags: tags and stage cards as PDF to print.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "book/parts.h"
#include "book/paths.h"
#include "book/print_runs.h"
#include "book/settings.h"
#include "command.h"
#include "errors.h"
#include "json_text.h"
#include "print/report_file.h"
#include "print/tag_pack.h"
#include "print_job.h"

namespace stripbook::cli {

namespace {

using number::TagNumber;

struct Typed {
    int count = 0;
    int from = 0;
    std::vector<std::string> tags;
    bool unprinted = false;
    bool stage_cards = false;
    bool runs = false;
    bool small = false;
    bool roll = false;
    bool fold = false;
    std::string paper = "a4";
    std::string again;
    std::string out;
};

print::PackOptions pack_options() {
    return {today(), STRIPBOOK_VERSION};
}

// Tags named by a person: parts, and numbers that were printed blank before.
std::vector<TagNumber> named_tags(const book::Book& book, const std::vector<std::string>& typed) {
    const auto printed = book::printed_numbers(book);
    std::vector<TagNumber> tags;
    for (const auto& text : typed) {
        const auto tag = TagNumber::from_typed(text, book.code());
        if (!book::find_part(book, tag) && printed.count(tag) == 0) {
            throw WrongUse(
                fmt::format("{} is no part of this book and was never printed: blank tags get their "
                            "numbers by --count",
                            tag.text()));
        }
        tags.push_back(tag);
    }
    return tags;
}

std::vector<TagNumber> unprinted_parts(const book::Book& book) {
    const auto printed = book::printed_numbers(book);
    std::vector<TagNumber> tags;
    for (const auto& part : book::all_parts(book)) {
        if (printed.count(part.tag) == 0) {
            tags.push_back(part.tag);
        }
    }
    return tags;
}

std::vector<TagNumber> wanted_tags(const book::Book& book, const Typed& typed) {
    const int ways = (typed.count > 0 ? 1 : 0) + (typed.tags.empty() ? 0 : 1) + (typed.unprinted ? 1 : 0);
    if (ways != 1) {
        throw WrongUse(
            "say which tags: --count 40 for blank ones, --for TAG... for parts, or --unprinted for "
            "all parts whose tag was never printed");
    }
    if (typed.from > 0 && typed.count == 0) {
        throw WrongUse("--from goes with --count");
    }
    if (typed.count > 0) {
        return book::free_numbers(book, typed.count, typed.from);
    }
    return typed.unprinted ? unprinted_parts(book) : named_tags(book, typed.tags);
}

std::vector<print::TagToPrint> with_names(const book::Book& book, const std::vector<TagNumber>& tags) {
    std::vector<print::TagToPrint> out;
    for (const auto& tag : tags) {
        const auto part = book::find_part(book, tag);
        // A part that was only seen in a photo has no name yet: its tag is printed to be written on.
        out.push_back({tag, part ? part->name : "", part ? part->place : ""});
    }
    return out;
}

struct Written {
    std::filesystem::path file;
    std::string instructions;  // their own file, on a roll
    print::Pack pack;
};

Written write_run(const book::Book& book, const book::PrintRun& run, const Typed& typed) {
    Written written;
    written.file = pdf_path(book, typed.out, fmt::format("tags-{:04}.pdf", run.id.value));
    written.pack = print::tag_pack(with_names(book, run.order.tags), run.order, pack_options());
    print::write_whole_file(written.file, written.pack.bytes);
    if (typed.roll) {
        const auto how = written.file.parent_path() / (written.file.stem().string() + "-how-to.pdf");
        print::write_whole_file(how, print::tag_instructions(typed.paper, pack_options()).bytes);
        written.instructions = how.string();
    }
    return written;
}

nlohmann::json tag_list(const std::vector<TagNumber>& tags) {
    auto list = nlohmann::json::array();
    for (const auto& tag : tags) {
        list.push_back(tag.text());
    }
    return list;
}

nlohmann::json run_as_json(const book::PrintRun& run) {
    return {{"run", run.id.value},      {"at", run.at},
            {"who", run.who},           {"size", book::size_word(run.order.size)},
            {"paper", run.order.paper}, {"fold", run.order.fold},
            {"again", run.order.again}, {"tags", tag_list(run.order.tags)}};
}

std::string run_words(const book::PrintRun& run) {
    const auto& tags = run.order.tags;
    const std::string numbers =
        tags.size() == 1 ? tags.front().text() : tags.front().text() + " to " + tags.back().text();
    return fmt::format("print run {}: {} {}, {}", run.id.value, book::size_word(run.order.size),
                       counted(tags.size(), "tag", "tags"), numbers);
}

void print_written(const book::PrintRun& run, const Written& written, const Context& context) {
    if (context.json) {
        auto answer = run_as_json(run);
        answer["file"] = written.file.string();
        answer["instructions"] = written.instructions;
        answer["pages"] = written.pack.pages;
        answer["remarks"] = written.pack.remarks;
        print_json(answer);
        return;
    }
    fmt::print("{}\n{}: {}; print at 100 %, with no scaling\n", run_words(run), written.file.string(),
               counted(static_cast<std::size_t>(written.pack.pages), "page", "pages"));
    if (!written.instructions.empty()) {
        fmt::print("{}: how to use them\n", written.instructions);
    }
    for (const auto& remark : written.pack.remarks) {
        fmt::print("    note: {}\n", remark);
    }
}

void print_tags(const Typed& typed, Context& context) {
    auto book = open_book(context, book::Access::write, "tags");
    const std::string who = book::who_is_working(book);
    book::PrintOrder order;
    order.size = typed.small ? book::TagSize::small : book::TagSize::large;
    order.paper = typed.roll ? "roll" : typed.paper;
    order.fold = typed.fold;
    order.again = typed.again;
    order.tags = wanted_tags(book, typed);
    if (order.tags.empty()) {
        context.json ? print_json({{"tags", nlohmann::json::array()}})
                     : fmt::print("every part's tag was printed already; nothing to do\n");
        return;
    }
    pdf_path(book, typed.out, "");  // refuse a bad --out before numbers are reserved
    // Reserved first: a run that is cut short may waste numbers, but never prints one twice.
    const auto run = book::add_print_run(book, order, who);
    try {
        const Written written = write_run(book, run, typed);
        print_written(run, written, context);
        context.status = written.pack.remarks.empty() ? done : needs_a_person;
    } catch (const Error&) {
        book::take_back_print_run(book, run.id, who);
        throw;
    }
}

void print_stage_cards(const Typed& typed, const Context& context) {
    const auto book = open_book(context, book::Access::read, "tags");
    const auto file = pdf_path(book, typed.out, "stage-cards.pdf");
    const auto pack = print::stage_card_pack(typed.paper, pack_options());
    print::write_whole_file(file, pack.bytes);
    if (context.json) {
        print_json({{"file", file.string()}, {"pages", pack.pages}});
        return;
    }
    fmt::print("{}: {}; print at 100 %, with no scaling\n", file.string(),
               counted(static_cast<std::size_t>(pack.pages), "page", "pages"));
}

void list_runs(const Context& context) {
    const auto book = open_book(context, book::Access::read, "tags");
    const auto runs = book::print_runs(book);
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& run : runs) {
            list.push_back(run_as_json(run));
        }
        print_json({{"runs", list}});
        return;
    }
    for (const auto& run : runs) {
        fmt::print("{}  {}{}, by {}\n", run.at, run_words(run),
                   run.order.again.empty() ? "" : ", again: " + book::printable_name(run.order.again),
                   book::printable_name(run.who));
    }
    fmt::print("{}\n", counted(runs.size(), "print run", "print runs"));
}

void tags(const Typed& typed, Context& context) {
    if (typed.runs) {
        list_runs(context);
    } else if (typed.stage_cards) {
        print_stage_cards(typed, context);
    } else {
        print_tags(typed, context);
    }
}

const char* const stock_advice =
    "Stock (common practice): paper is for clean rooms only. Polyester or other plastic printing film with a "
    "toner "
    "print survives water, oil and most solvents. Nothing printed survives blasting: take the tag off, stamp "
    "the "
    "short number on a metal disc and wire that to the part. Print at 100 %, with no scaling. Wire tags on "
    "away "
    "from sharp edges and moving parts.";

}  // namespace

void add_tags(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command = add_command(app, context, "tags", "part tags and stage cards as PDF to print");
    command->footer(stock_advice);
    constexpr int most_tags = 5000;
    command->add_option("--count", typed->count, "so many blank tags, with the next free numbers")
        ->check(CLI::Range(1, most_tags));
    command->add_option("--from", typed->from, "with --count: free numbers from here on")
        ->check(CLI::Range(1, number::highest_serial));
    command->add_option("--for", typed->tags, "tags of these parts, with name and place");
    command->add_flag("--unprinted", typed->unprinted, "tags of all parts whose tag was never printed");
    command->add_option("--again", typed->again,
                        "print numbers again that were printed before, and why: lost, blasted off, ...");
    command->add_flag("--small", typed->small, "72 x 36 mm, for small parts (else 120 x 60 mm)");
    command->add_flag("--fold", typed->fold, "both faces, to fold: for tags that flip on their wire");
    command->add_flag("--roll", typed->roll, "one tag a page of its own size, for a label printer");
    command->add_option("--paper", typed->paper, "a4 or letter")->check(CLI::IsMember({"a4", "letter"}));
    command->add_flag("--stage-cards", typed->stage_cards, "the seven stage cards instead");
    command->add_flag("--runs", typed->runs, "list what was printed");
    command->add_option("--out", typed->out, "the PDF to write (default: in the book's reports folder)");
    command->callback([typed, &context] { tags(*typed, context); });
}

}  // namespace stripbook::cli
