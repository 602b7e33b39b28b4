// stripbook parts: the parts list in and out, and one part's record.
#include <fmt/format.h>

#include <cstdio>
#include <filesystem>
#include <memory>

#include "book/parts.h"
#include "book/parts_csv.h"
#include "book/paths.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "command.h"
#include "day/read_day.h"
#include "json_text.h"
#include "print/report_file.h"
#include "show_part.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::string file;
    std::string tag;
    std::string out;
    bool dry_run = false;
};

std::string shown(const std::string& text) {
    return text.empty() ? "nothing" : '"' + book::printable_name(text) + '"';
}

void print_plan(const book::ImportPlan& plan) {
    for (const auto& change : plan.changed) {
        fmt::print("{}{}\n", heading_of(change.part), change.is_new ? "  (new)" : "");
        for (const auto& cell : change.changes) {
            fmt::print("    {}: {} -> {}\n", cell.field, shown(cell.before), shown(cell.after));
        }
    }
}

nlohmann::json plan_as_json(const book::ImportPlan& plan, bool done) {
    auto parts = nlohmann::json::array();
    for (const auto& change : plan.changed) {
        auto cells = nlohmann::json::array();
        for (const auto& cell : change.changes) {
            cells.push_back({{"field", cell.field}, {"before", cell.before}, {"after", cell.after}});
        }
        parts.push_back({{"tag", change.part.tag.text()}, {"new", change.is_new}, {"changes", cells}});
    }
    return {{"done", done},
            {"parts", parts},
            {"unchanged", plan.unchanged},
            {"columns_kept_as_notes", plan.columns_kept_as_notes},
            {"remarks", plan.remarks}};
}

void print_summary(const book::ImportPlan& plan, bool dry_run) {
    std::size_t fresh = 0;
    for (const auto& change : plan.changed) {
        fresh += change.is_new ? 1 : 0;
    }
    for (const auto& remark : plan.remarks) {
        fmt::print("{}\n", remark);
    }
    for (const auto& column : plan.columns_kept_as_notes) {
        fmt::print("column \"{}\" is kept as a note\n", book::printable_name(column));
    }
    fmt::print("{}{} new, {} changed, {} as they were\n", dry_run ? "Nothing was changed. It would be: " : "",
               counted(fresh, "part", "parts"), plan.changed.size() - fresh, plan.unchanged);
}

void import_list(const Typed& typed, const Context& context) {
    auto book = open_book(context, typed.dry_run ? book::Access::read : book::Access::write, "parts import");
    const auto plan = book::plan_import(book, typed.file);
    if (!typed.dry_run) {
        const auto name = std::filesystem::path(typed.file).filename().string();
        book::apply_import(book, plan, book::who_is_working(book),
                           "parts import " + book::printable_name(name));
        day::link_all(book);  // numbers that only fiducials gave may be known now
    }
    if (context.json) {
        print_json(plan_as_json(plan, !typed.dry_run));
        return;
    }
    if (typed.dry_run) {
        print_plan(plan);
    }
    print_summary(plan, typed.dry_run);
}

void list(const Context& context) {
    const auto book = open_book(context, book::Access::read, "parts list");
    const auto parts = book::all_parts(book);
    if (context.json) {
        auto all = nlohmann::json::array();
        for (const auto& part : parts) {
            all.push_back(to_json(part));
        }
        print_json({{"parts", all}});
        return;
    }
    for (const auto& part : parts) {
        fmt::print("{:<14} {:<32} {:<20} {}\n", part.tag.text(),
                   part.name.empty() ? "name not yet known" : book::printable_name(part.name),
                   book::printable_name(part.assembly), part.path);
    }
    fmt::print("{}\n", counted(parts.size(), "part", "parts"));
}

void show(const Typed& typed, const Context& context) {
    const auto book = open_book(context, book::Access::read, "parts show");
    const auto file = book::gather_part(book, book::part_from_typed(book, typed.tag));
    if (context.json) {
        print_json(to_json(book, file));
        return;
    }
    print_part(book, file);
    print_history(file);
}

void export_list(const Typed& typed, const Context& context) {
    const auto book = open_book(context, book::Access::read, "parts export");
    const std::string csv = book::export_parts(book);
    if (typed.out.empty()) {
        std::fwrite(csv.data(), 1, csv.size(), stdout);
        return;
    }
    print::write_whole_file(typed.out, csv);
    fmt::print("{} written to {}\n", counted(book::all_parts(book).size(), "part", "parts"), typed.out);
}

}  // namespace

void add_parts(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* parts =
        app.add_subcommand("parts", "the parts list: import, list, show, export, move, missing, expect, bag");
    parts->require_subcommand(1);

    auto* import_command =
        add_command(*parts, context, "import", "bring in a parts list (CSV with a tag column)");
    import_command->add_option("file", typed->file, "the CSV file")->required();
    import_command->add_flag("--dry-run", typed->dry_run, "show what would change, change nothing");
    import_command->callback([typed, &context] { import_list(*typed, context); });

    auto* list_command = add_command(*parts, context, "list", "all parts, one a line");
    list_command->callback([&context] { list(context); });

    auto* show_command = add_command(*parts, context, "show", "one part: record, photos, history");
    show_command->add_option("tag", typed->tag, "tag number: PET-00417-D, PET-00417 or 417")->required();
    show_command->callback([typed, &context] { show(*typed, context); });

    auto* export_command =
        add_command(*parts, context, "export", "all parts as CSV, to bring into a spreadsheet");
    export_command->add_option("--out", typed->out, "file to write (default: standard output)");
    export_command->callback([typed, &context] { export_list(*typed, context); });

    add_parts_tree(*parts, context);
    add_parts_mistakes(*parts, context);
}

}  // namespace stripbook::cli
