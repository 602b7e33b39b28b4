// stripbook export: everything the book holds, as tables for a spreadsheet and as JSON.
#include <fmt/format.h>

#include <memory>

#include "book/book_export.h"
#include "book/paths.h"
#include "command.h"
#include "json_text.h"

namespace stripbook::cli {

namespace {

void export_tables(const std::string& folder, const Context& context) {
    auto book = open_book(context, book::Access::read, "export");
    const auto tables = book::export_book(book, folder);
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& table : tables) {
            list.push_back({{"table", table.name}, {"file", table.name + ".csv"}, {"rows", table.rows}});
        }
        print_json({{"folder", folder}, {"tables", list}, {"json", "book.json"}});
        return;
    }
    for (const auto& table : tables) {
        fmt::print("{:>9}  {}.csv\n", table.rows, table.name);
    }
    fmt::print("written to {}; book.json holds the same in one file\n", book::printable_name(folder));
}

}  // namespace

void add_export(CLI::App& app, Context& context) {
    auto folder = std::make_shared<std::string>();
    auto* command = add_command(app, context, "export",
                                "everything the book holds: one CSV file a table, and one JSON file");
    command->add_option("folder", *folder, "a new folder for the files")->required();
    command->callback([folder, &context] { export_tables(*folder, context); });
}

}  // namespace stripbook::cli
