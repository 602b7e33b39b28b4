// stripbook parts move, missing, expect, bag: where parts belong, and what should be there.
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <vector>

#include "book/completeness.h"
#include "book/parts.h"
#include "book/parts_tree.h"
#include "book/paths.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "command.h"
#include "errors.h"
#include "json_record.h"
#include "json_text.h"
#include "show_part.h"
#include "typed_words.h"

namespace stripbook::cli {

namespace {

struct Typed {
    std::vector<std::string> tags;
    std::string to, under, assembly;
    bool under_nothing = false;
    bool all = false;
    std::string name, count, maker_number, source;
    std::string tag, size;
};

std::vector<number::TagNumber> moved(book::Book& book, const Typed& t, bool to_given) {
    const std::string who = book::who_is_working(book);
    if (!t.assembly.empty()) {
        return book::move_assembly(book, t.assembly, t.to, who);
    }
    book::Move move;
    if (to_given) {
        move.to_assembly = t.to;
    }
    if (!t.under.empty()) {
        move.under = book::part_from_typed(book, t.under);
    }
    move.from_nothing = t.under_nothing;
    return book::move_parts(book, typed_tags(book, t.tags), move, who);
}

void check_move(const Typed& t, bool to_given) {
    if (!t.assembly.empty()) {
        if (!t.tags.empty() || !t.under.empty() || t.under_nothing || !to_given) {
            throw WrongUse(
                "--assembly moves everything in it and takes only --to: stripbook parts move --assembly "
                "\"Axle "
                "2\" --to \"Running gear / Axle 2\"");
        }
        return;
    }
    if (t.tags.empty() || (!to_given && t.under.empty() && !t.under_nothing)) {
        throw WrongUse(
            "name the parts and where they belong: stripbook parts move 417 418 --to \"Running gear / Axle "
            "2\", "
            "or --under TAG");
    }
    if (!t.under.empty() && t.under_nothing) {
        throw WrongUse("--under and --under-nothing exclude each other");
    }
}

void move(const Typed& t, bool to_given, const Context& context) {
    check_move(t, to_given);
    auto book = open_book(context, book::Access::write, "parts move");
    const auto tags = moved(book, t, to_given);
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& tag : tags) {
            list.push_back(to_json(book::part_or_refusal(book, tag)));
        }
        print_json({{"moved", list}});
        return;
    }
    for (const auto& tag : tags) {
        const auto part = book::part_or_refusal(book, tag);
        fmt::print("{}  in {}{}\n", heading_of(part),
                   part.assembly.empty() ? "no assembly" : book::printable_name(part.assembly),
                   part.parent ? ", taken from " + part.parent->text() : "");
    }
    fmt::print("{} moved\n", counted(tags.size(), "part", "parts"));
}

// An assembly of the list as a heading, then its lines.
void print_missing(const std::vector<book::Completeness>& list) {
    std::string last = "none yet";
    for (const auto& one : list) {
        if (one.assembly != last) {
            fmt::print("{}\n",
                       one.assembly.empty() ? "the whole machine" : book::printable_name(one.assembly));
            last = one.assembly;
        }
        fmt::print("  {}\n", book::printable_name(book::words_of(one)));
        for (const auto& place : one.short_in) {
            fmt::print("      {}\n", book::printable_name(place));
        }
    }
}

void missing(const Typed& t, Context& context) {
    const auto book = open_book(context, book::Access::read, "parts missing");
    const auto everything = book::completeness(book);
    std::vector<book::Completeness> list;
    std::size_t missing_kinds = 0;
    for (const auto& one : everything) {
        if (!book::lies_within(one.assembly, t.assembly)) {
            continue;
        }
        const bool is_short = one.present < one.expected;
        missing_kinds += is_short ? 1 : 0;
        if (t.all || is_short) {
            list.push_back(one);
        }
    }
    context.status = missing_kinds == 0 ? done : needs_a_person;
    if (context.json) {
        auto answer = nlohmann::json::array();
        for (const auto& one : list) {
            answer.push_back(to_json(one));
        }
        print_json({{"lines", answer}, {"kinds_missing", missing_kinds}});
        return;
    }
    print_missing(list);
    if (everything.empty()) {
        fmt::print(
            "no quantity is expected yet: stripbook parts expect \"axlebox spring\" 8 --assembly \"Running "
            "gear\"\n");
    } else {
        fmt::print("{}\n", missing_kinds == 0
                               ? "nothing that is expected is missing"
                               : counted(missing_kinds, "kind of part", "kinds of part") + " not complete");
    }
}

void expect(const Typed& t, const Context& context) {
    auto book = open_book(context, book::Access::write, "parts expect");
    book::Line line;
    line.name = t.name;
    line.quantity_expected = typed_whole(t.count, "quantity");
    line.maker_number = t.maker_number;
    line.assembly = t.assembly;
    line.source = t.source;
    book::save_line(book, line, book::who_is_working(book));
    const auto lines = book::all_lines(book);
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& one : lines) {
            list.push_back({{"name", one.name},
                            {"maker_number", one.maker_number},
                            {"assembly", one.assembly},
                            {"quantity_expected", one.quantity_expected},
                            {"source", one.source}});
        }
        print_json({{"lines", list}});
        return;
    }
    fmt::print("{} on the list of what is expected\n", counted(lines.size(), "line", "lines"));
}

void bag(const Typed& t, const Context& context) {
    const bool changes = !t.size.empty();
    if (changes && t.count.empty()) {
        throw WrongUse("say how many: stripbook parts bag 417 \"M12 x 40 bolt\" 6 (0 takes them out)");
    }
    auto book = open_book(context, changes ? book::Access::write : book::Access::read, "parts bag");
    const auto tag = book::part_from_typed(book, t.tag);
    const auto part = book::part_or_refusal(book, tag);
    if (changes) {
        book::set_fasteners(book, tag, {t.size, typed_whole(t.count, "count")}, book::who_is_working(book));
    }
    const auto fasteners = book::fasteners_of(book, tag);
    if (context.json) {
        print_json({{"tag", tag.text()}, {"bagged", fasteners_json(fasteners)}});
        return;
    }
    fmt::print("{}\n", heading_of(part));
    for (const auto& one : fasteners) {
        fmt::print("  {} x {}\n", one.count, book::printable_name(one.size));
    }
    if (fasteners.empty()) {
        fmt::print("  nothing is bagged under its tag\n");
    }
}

}  // namespace

void add_parts_tree(CLI::App& parts, Context& context) {
    auto t = std::make_shared<Typed>();
    auto* move_command =
        add_command(parts, context, "move", "parts belong elsewhere; what was taken from them goes along");
    move_command->add_option("tags", t->tags, "tag numbers");
    auto* to = move_command->add_option("--to", t->to,
                                        "the assembly, levels parted by slashes: \"Running gear / Axle 2\"");
    move_command->add_option("--under", t->under, "the part they were taken from");
    move_command->add_flag("--under-nothing", t->under_nothing,
                           "they were taken from no other part after all");
    move_command->add_option("--assembly", t->assembly,
                             "instead of parts: an assembly with everything in it");
    move_command->callback([t, to, &context] { move(*t, to->count() > 0, context); });

    auto* missing_command =
        add_command(parts, context, "missing", "what is expected and not present, by assembly");
    missing_command->add_option("--assembly", t->assembly, "only in this assembly");
    missing_command->add_flag("--all", t->all, "also what is complete");
    missing_command->callback([t, &context] { missing(*t, context); });

    auto* expect_command = add_command(parts, context, "expect", "how many of a part there should be");
    expect_command->add_option("name", t->name, "as on the part records: \"axlebox spring\"")->required();
    expect_command->add_option("quantity", t->count, "how many; 0 takes the line back")->required();
    expect_command->add_option("--assembly", t->assembly, "where (default: the whole machine)");
    expect_command->add_option("--maker-number", t->maker_number, "maker's part or drawing number");
    expect_command->add_option("--source", t->source, "maker's list, or who says so");
    expect_command->callback([t, &context] { expect(*t, context); });

    auto* bag_command = add_command(parts, context, "bag", "fasteners bagged under a part's tag");
    bag_command->add_option("tag", t->tag, "tag number: PET-00417-D, PET-00417 or 417")->required();
    bag_command->add_option("fasteners", t->size, "what: \"M12 x 40 bolt\"");
    bag_command->add_option("count", t->count, "how many; 0: none any more");
    bag_command->callback([t, &context] { bag(*t, context); });
}

}  // namespace stripbook::cli
