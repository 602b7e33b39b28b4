// stripbook markers: scale markers as PDF to print, and what was measured on the printed sheets.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "book/marker_sheets.h"
#include "book/number_text.h"
#include "book/paths.h"
#include "book/settings.h"
#include "command.h"
#include "errors.h"
#include "json_text.h"
#include "print/marker_pack.h"
#include "print/report_file.h"
#include "print_job.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::vector<std::string> kinds;
    std::string kind;
    int count = 1;
    std::string paper = "a4";
    bool split = false;
    std::string out;
    int sheet = 0;
    std::string across;
    std::string along;
    std::vector<std::string> sides;
    std::vector<std::string> diagonals;
    bool exact = false;
    bool sure = false;
    bool from_elsewhere = false;
};

const std::vector<std::string> kind_names{"pocket", "bench", "mat"};

std::string sheet_name(const book::MarkerSheet& sheet) {
    return number::marker_sheet_text(number::marker_layout(sheet.kind), sheet.number);
}

nlohmann::json sheet_as_json(const book::MarkerSheet& sheet) {
    nlohmann::json out{{"sheet", sheet_name(sheet)}, {"kind", sheet.kind},     {"number", sheet.number},
                       {"pieces", sheet.pieces},     {"printed_at", sheet.at}, {"retired", sheet.retired},
                       {"correction", nullptr}};
    if (sheet.check) {
        const auto correction =
            number::correction_of(number::marker_layout(sheet.kind), sheet.check->measured);
        out["correction"] = {{"across", correction.across},     {"along", correction.along},
                             {"u_across", correction.u_across}, {"u_along", correction.u_along},
                             {"measured_at", sheet.check->at},  {"who", sheet.check->who}};
    }
    return out;
}

std::string correction_words(const book::MarkerSheet& sheet) {
    if (!sheet.check) {
        return "not measured yet: measure its check lines before its dimensions count";
    }
    const auto c = number::correction_of(number::marker_layout(sheet.kind), sheet.check->measured);
    return fmt::format("printed {:.4f} of its size across and {:.4f} along (u {:.2g} and {:.2g})", c.across,
                       c.along, c.u_across, c.u_along);
}

// One kind's sheets into one PDF.
nlohmann::json print_kind(book::Book& book, const std::string& kind, const Typed& typed, bool json) {
    const auto& layout = number::marker_layout(kind);
    const int pieces = print::marker_pieces(layout, typed.paper, typed.split);
    const auto sheets = book::add_marker_sheets(book, kind, typed.count, pieces, book::who_is_working(book));
    try {
        std::vector<int> numbers;
        for (const auto& sheet : sheets) {
            numbers.push_back(sheet.number);
        }
        const auto file =
            pdf_path(book, typed.out, fmt::format("marker-{}-{:04}.pdf", kind, numbers.front()));
        const auto pack =
            print::marker_pack(layout, numbers, typed.paper, typed.split, {today(), STRIPBOOK_VERSION});
        print::write_whole_file(file, pack.bytes);
        if (!json) {
            fmt::print("{}: {}, {}; print at 100 %, with no scaling, on matt stock\n", file.string(),
                       counted(sheets.size(), kind + " marker", kind + " markers"),
                       counted(static_cast<std::size_t>(pack.pages), "page", "pages"));
        }
        auto names = nlohmann::json::array();
        for (const auto& sheet : sheets) {
            names.push_back(sheet_name(sheet));
        }
        return {{"kind", kind},
                {"sheets", names},
                {"pieces", pieces},
                {"file", file.string()},
                {"pages", pack.pages}};
    } catch (const Error&) {
        book::take_back_marker_sheets(book, sheets);
        throw;
    }
}

void print_markers(const Typed& typed, const Context& context) {
    const auto kinds = typed.kinds.empty() ? kind_names : typed.kinds;
    for (const auto& kind : kinds) {
        number::marker_layout(kind);  // refuses what is no kind, before anything is printed
    }
    if (!typed.out.empty() && kinds.size() != 1) {
        throw WrongUse("--out names one PDF, and each kind of marker is a PDF of its own: name one kind");
    }
    auto book = open_book(context, book::Access::write, "markers");
    auto written = nlohmann::json::array();
    for (const auto& kind : kinds) {
        written.push_back(print_kind(book, kind, typed, context.json));
    }
    if (context.json) {
        print_json({{"written", written}});
        return;
    }
    fmt::print(
        "then measure the check lines and tell the book: stripbook markers measured {} --across ... "
        "--along ...\n",
        kinds.front());
}

// The sheet that is meant: the one named, or the only one in use.
book::MarkerSheet meant_sheet(book::Book& book, const Typed& typed) {
    number::marker_layout(typed.kind);  // refuses what is no kind
    std::vector<book::MarkerSheet> in_use;
    for (const auto& sheet : book::marker_sheets(book)) {
        if (sheet.kind == typed.kind &&
            (typed.sheet == sheet.number || (typed.sheet == 0 && !sheet.retired))) {
            in_use.push_back(sheet);
        }
    }
    if (in_use.size() == 1 && !typed.from_elsewhere) {
        return in_use.front();
    }
    if (typed.from_elsewhere && typed.sheet > 0) {
        return book::add_foreign_sheet(book, typed.kind, typed.sheet, book::who_is_working(book));
    }
    if (typed.sheet > 0) {
        throw WrongUse(
            fmt::format("this book has not printed {} sheet {}; if another book did, add "
                        "--from-elsewhere",
                        typed.kind, typed.sheet));
    }
    if (in_use.empty()) {
        throw WrongUse(
            fmt::format("no {} sheet is in use: print one with stripbook markers {}, or name one that "
                        "another book printed with --sheet N --from-elsewhere",
                        typed.kind, typed.kind));
    }
    throw WrongUse(
        fmt::format("{} {} sheets are in use: say which one with --sheet (its number is printed on it)",
                    in_use.size(), typed.kind));
}

number::SheetMeasured measured_by(const Typed& typed, const number::MarkerLayout& layout,
                                  number::LengthUnit unit) {
    if (typed.exact) {
        return {layout.check_across.length(), layout.check_along.length(), std::nullopt, 0};
    }
    if (typed.across.empty() || typed.along.empty()) {
        throw WrongUse("give both check lines as measured from tick to tick: --across 99.7 --along 100.2");
    }
    number::SheetMeasured measured{number::length_from_typed(typed.across, unit).mm,
                                   number::length_from_typed(typed.along, unit).mm, std::nullopt,
                                   number::caliper_u_mm};
    if (typed.sides.empty() != typed.diagonals.empty()) {
        throw WrongUse("--sides TOP RIGHT BOTTOM LEFT and --diagonals FALLING RISING go together");
    }
    if (!typed.sides.empty()) {
        if (layout.corner_mark_inset == 0) {
            throw WrongUse(
                fmt::format("a {} has no corner marks: leave --sides and --diagonals away", layout.kind));
        }
        std::vector<double> mm;
        for (const auto& list : {typed.sides, typed.diagonals}) {
            for (const auto& text : list) {
                mm.push_back(number::length_from_typed(text, unit).mm);
            }
        }
        measured.outer = number::OuterMeasured{mm[0], mm[1], mm[2], mm[3], mm[4], mm[5]};
    }
    return measured;
}

void measured(const Typed& typed, Context& context) {
    auto book = open_book(context, book::Access::write, "markers measured");
    book.together([&] {
        const auto sheet = meant_sheet(book, typed);
        const auto& layout = number::marker_layout(sheet.kind);
        const auto lengths = measured_by(typed, layout, unit_of(book));
        const auto questions =
            typed.exact ? std::vector<std::string>{} : number::questions_about(layout, sheet.pieces, lengths);
        if (!questions.empty() && !typed.sure) {
            std::string all;
            for (const auto& question : questions) {
                all += (all.empty() ? "" : "; ") + question;
            }
            throw WrongUse(
                fmt::format("{}: {}. Measure again; if it is so (an old printer, a copy), say --sure. "
                            "Nothing was kept",
                            sheet_name(sheet), all));
        }
        book::save_marker_check(book, sheet.kind, sheet.number, lengths, book::who_is_working(book));
    });
    for (const auto& sheet : book::marker_sheets(book)) {
        const bool meant =
            sheet.kind == typed.kind && !sheet.retired && (typed.sheet == 0 || typed.sheet == sheet.number);
        if (meant && context.json) {
            print_json(sheet_as_json(sheet));
        } else if (meant) {
            fmt::print("{}: {}\n", sheet_name(sheet), correction_words(sheet));
        }
    }
}

void list(const Context& context) {
    const auto book = open_book(context, book::Access::read, "markers list");
    const auto sheets = book::marker_sheets(book);
    if (context.json) {
        auto all = nlohmann::json::array();
        for (const auto& sheet : sheets) {
            all.push_back(sheet_as_json(sheet));
        }
        print_json({{"sheets", all}});
        return;
    }
    for (const auto& sheet : sheets) {
        fmt::print("{}: {}{}\n", sheet_name(sheet), sheet.retired ? "retired; " : "",
                   correction_words(sheet));
    }
    fmt::print("{}\n", counted(sheets.size(), "sheet", "sheets"));
}

void retire(const Typed& typed, const Context& context) {
    auto book = open_book(context, book::Access::write, "markers retire");
    const auto sheet = meant_sheet(book, typed);
    book::retire_marker_sheet(book, sheet.kind, sheet.number, book::who_is_working(book));
    if (context.json) {
        print_json({{"sheet", sheet_name(sheet)}, {"retired", true}});
        return;
    }
    fmt::print("{} no longer counts as in use\n", sheet_name(sheet));
}

}  // namespace

void add_markers(CLI::App& app, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(app, context, "markers", "scale markers as PDF to print, and their corrections");
    command->footer(
        "Print at 100 %, with no scaling, on matt stock, and glue the marker flat to a board. Printers "
        "stretch: "
        "measure both check lines with a caliper and tell the book with: stripbook markers measured bench "
        "--across 99.7 --along 100.2");
    constexpr int most_sheets = 50;
    command->add_option("kind", typed->kinds, "pocket, bench, mat (default: one of each)");
    command->add_option("--count", typed->count, "so many of each")->check(CLI::Range(1, most_sheets));
    command->add_option("--paper", typed->paper, "a4 or letter")->check(CLI::IsMember({"a4", "letter"}));
    command->add_flag("--split", typed->split, "over several sheets of paper, to be glued together");
    command->add_option("--out", typed->out, "the PDF to write (default: in the book's reports folder)");
    command->callback([typed, command, &context] {
        if (command->get_subcommands().empty()) {
            print_markers(*typed, context);
        }
    });

    const auto sheet_options = [&](CLI::App* sub) {
        sub->add_option("kind", typed->kind, "pocket, bench or mat")->required();
        sub->add_option("--sheet", typed->sheet,
                        "the number printed on the sheet (not needed for the only one)")
            ->check(CLI::Range(1, 9999));
    };
    auto* measured_command =
        add_command(*command, context, "measured", "keep what was measured on a printed sheet");
    sheet_options(measured_command);
    measured_command->add_option("--across", typed->across, "the check line across, from tick to tick");
    measured_command->add_option("--along", typed->along, "the check line along");
    measured_command->add_option("--sides", typed->sides, "glued: TOP RIGHT BOTTOM LEFT, from cross to cross")
        ->expected(4);
    measured_command->add_option("--diagonals", typed->diagonals, "glued: FALLING RISING")->expected(2);
    measured_command->add_flag("--exact", typed->exact, "this sheet is known to be exact");
    measured_command->add_flag("--sure", typed->sure, "it really is more than 1 % off");
    measured_command->add_flag("--from-elsewhere", typed->from_elsewhere, "another book printed this sheet");
    measured_command->callback([typed, &context] { measured(*typed, context); });

    auto* list_command = add_command(*command, context, "list", "all sheets and their corrections");
    list_command->callback([&context] { list(context); });

    auto* retire_command = add_command(*command, context, "retire", "a sheet is lost, bent or thrown away");
    sheet_options(retire_command);
    retire_command->callback([typed, &context] { retire(*typed, context); });
}

}  // namespace stripbook::cli
