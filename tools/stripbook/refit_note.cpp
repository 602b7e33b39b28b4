// stripbook refit note: what refitting needs to know of a part.
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>
#include <memory>

#include "book/number_text.h"
#include "book/parts.h"
#include "book/paths.h"
#include "book/refit_notes.h"
#include "book/settings.h"
#include "book/tag_meanings.h"
#include "errors.h"
#include "json_text.h"
#include "refit/torque.h"
#include "refit_plan.h"

namespace stripbook::cli {

namespace {

using Kind = book::RefitNoteKind;

struct Typed {
    std::string tag;
    std::string correct;
    std::string end;
    std::string by;
};

// Options that begin an entry, and those that say more of the entry before them.
const std::map<std::string, Kind> entry_options{
    {"--match-marks", Kind::match_marks}, {"--way-round", Kind::way_round}, {"--shim", Kind::shim},
    {"--setting", Kind::setting},         {"--fastener", Kind::fastener},   {"--torque", Kind::torque},
    {"--new", Kind::always_new}};
constexpr std::array<const char*, 4> more_options{"--count", "--where", "--size", "--source"};

std::size_t words_of(const std::string& option) {
    return option == "--shim" || option == "--torque" ? 2 : 1;
}

// The number behind an option.
int whole_of(const char* option, const std::string& typed) {
    const auto count = book::whole_from(typed);
    if (!count || *count < 1) {
        throw WrongUse(
            fmt::format("{} {}: write a whole number from 1", option, book::printable_name(typed)));
    }
    return *count;
}

// "M12 x 50": the size, and behind the first " x " the length.
void set_fastener(book::RefitNote& note, const std::string& typed) {
    const auto cross = typed.find(" x ");
    note.size = book::without_outer_spaces(typed.substr(0, cross));
    note.length = cross == std::string::npos ? "" : book::without_outer_spaces(typed.substr(cross + 3));
}

void set_shim(book::RefitNote& note, const std::vector<std::string>& typed, bool inch) {
    note.place = typed[0];
    note.unit = "mm";
    try {
        const auto unit = inch ? number::LengthUnit::inch : number::LengthUnit::mm;
        note.value = number::length_from_typed(typed[1], unit).mm;
    } catch (const WrongUse& error) {
        throw WrongUse(fmt::format("--shim: {}; a thickness is written 0.8mm, 0.032in or \"1/32 in\"",
                                   book::printable_name(error.what())));
    }
}

void set_torque(book::RefitNote& note, const std::vector<std::string>& typed) {
    const auto torque = refit::torque_from(typed[1]);
    if (!torque) {
        throw WrongUse(fmt::format(
            "--torque: \"{}\" is not a torque: write it with its unit, \"70 N.m\" or \"52 lbf.ft\"",
            book::printable_name(typed[1])));
    }
    note.words = typed[0];
    note.value = torque->value;
    note.unit = refit::torque_unit_words(torque->unit);
}

book::RefitNote entry_from(Kind kind, const std::vector<std::string>& typed, bool inch) {
    book::RefitNote note;
    note.kind = kind;
    if (kind == Kind::shim) {
        set_shim(note, typed, inch);
    } else if (kind == Kind::torque) {
        set_torque(note, typed);
    } else if (kind == Kind::fastener) {
        set_fastener(note, typed[0]);
    } else {
        note.words = book::without_outer_spaces(typed[0]);
    }
    return note;
}

void say_more(std::vector<book::RefitNote>& notes, const std::string& option, const std::string& typed) {
    if (notes.empty()) {
        throw WrongUse(
            fmt::format("{} says more of the entry before it: write it behind that entry", option));
    }
    book::RefitNote& note = notes.back();
    if (option == "--count") {
        note.count = whole_of("--count", typed);
    } else {
        (option == "--where" ? note.place : option == "--size" ? note.size : note.source) = typed;
    }
}

// The entries in the order in which they were typed.
std::vector<book::RefitNote> typed_entries(const CLI::App& command, bool inch) {
    std::vector<book::RefitNote> notes;
    std::map<std::string, std::size_t> taken;
    std::map<std::string, std::vector<std::string>> words;
    for (const auto* option : command.parse_order()) {  // names an option once for each word behind it
        const std::string name = option->get_name();
        const auto entry = entry_options.find(name);
        const bool says_more =
            std::find(more_options.begin(), more_options.end(), name) != more_options.end();
        if (entry == entry_options.end() && !says_more) {
            continue;
        }
        words[name].push_back(option->results().at(taken[name]++));
        if (words[name].size() < words_of(name)) {
            continue;
        }
        if (says_more) {
            say_more(notes, name, words[name][0]);
        } else {
            notes.push_back(entry_from(entry->second, words[name], inch));
        }
        words[name].clear();
    }
    return notes;
}

nlohmann::json to_json(const book::RefitNote& note) {
    return {{"number", note.number},
            {"kind", book::refit_note_kind_words(note.kind)},
            {"words", note.words},
            {"size", note.size},
            {"length", note.length},
            {"count", note.count ? nlohmann::json(*note.count) : nlohmann::json(nullptr)},
            {"place", note.place},
            {"value", note.value ? nlohmann::json(*note.value) : nlohmann::json(nullptr)},
            {"unit", note.unit},
            {"source", note.source},
            {"text", book::refit_note_words(note)},
            {"at", note.at},
            {"who", note.who}};
}

void answer(const book::Book& book, const number::TagNumber& tag, const Context& context) {
    const auto notes = book::refit_notes(book, tag);
    if (context.json) {
        auto list = nlohmann::json::array();
        for (const auto& note : notes) {
            list.push_back(to_json(note));
        }
        print_json({{"tag", tag.text()}, {"notes", list}});
        return;
    }
    fmt::print("{}\n", tag.text());
    for (const auto& note : notes) {
        fmt::print("  {:>2}  {:<11}  {}\n", note.number, book::refit_note_kind_words(note.kind),
                   book::printable_name(book::refit_note_words(note)));
    }
    if (notes.empty()) {
        fmt::print("  no refit notes yet\n");
    }
}

void check_ways(const Typed& typed, const std::vector<book::RefitNote>& entries) {
    if (!typed.end.empty() && (!typed.correct.empty() || !entries.empty())) {
        throw WrongUse("--end takes one entry away: give it alone");
    }
    if (!typed.correct.empty() && entries.size() != 1) {
        throw WrongUse("--correct puts one entry in the place of another: give that one entry with it");
    }
}

void write(book::Book& book, const number::TagNumber& tag, const Typed& typed,
           const std::vector<book::RefitNote>& entries) {
    const std::string who = who_says(book, typed.by);
    if (!typed.end.empty()) {
        book::end_refit_note(book, tag, whole_of("--end", typed.end), who);
    } else if (!typed.correct.empty()) {
        book::correct_refit_note(book, tag, whole_of("--correct", typed.correct), entries[0], who);
    } else {
        book::add_refit_notes(book, tag, entries, who);
    }
}

void note(const CLI::App& command, const Typed& typed, const Context& context) {
    const bool says_something =
        !command
             .get_options([](const CLI::Option* option) {
                 return option->count() > 0 &&
                        (entry_options.contains(option->get_name()) || option->get_name() == "--correct" ||
                         option->get_name() == "--end");
             })
             .empty();
    auto book = open_book(context, says_something ? book::Access::write : book::Access::read, "refit note");
    const auto tag = book::part_from_typed(book, typed.tag);
    const auto entries = typed_entries(command, book::setting(book, "units") == "inch");
    check_ways(typed, entries);
    if (!book::find_part(book, tag)) {
        throw WrongUse(fmt::format("the book has no part {}: look at the tag again", tag.text()));
    }
    if (says_something) {
        write(book, tag, typed, entries);
    }
    answer(book, tag, context);
}

}  // namespace

void add_refit_note(CLI::App& refit, Context& context) {
    auto typed = std::make_shared<Typed>();
    auto* command =
        add_command(refit, context, "note",
                    "what refitting needs to know of a part; without entries: shows what there is");
    command->add_option("tag", typed->tag, "tag number: PET-00417-D, PET-00417 or 417")->required();
    const auto entry = [command](const char* name, const char* what, int words) {
        command->add_option(name, CLI::callback_t{}, what)
            ->type_size(words)
            ->expected(1)
            ->multi_option_policy(CLI::MultiOptionPolicy::TakeAll)
            ->allow_extra_args(false);
    };
    entry("--match-marks", "marks that must meet: \"two dots at the top\"", 1);
    entry("--way-round", "which way it goes: \"arrow to the front\"", 1);
    entry("--shim", "place and thickness: \"left horn\" 0.8mm", 2);
    entry("--setting", "a setting as found: \"3 turns from closed\"", 1);
    entry("--fastener", "size and length: \"M12 x 50\"; with --count, --where", 1);
    entry("--torque", "what, and how tight: \"M12 nuts\" \"70 N.m\"; with --source", 2);
    entry("--new", "always new: \"split pin 4 x 40\"; with --count, --size", 1);
    entry("--count", "how many, of the entry before", 1);
    entry("--where", "where it sits, of the entry before", 1);
    entry("--size", "of the entry before", 1);
    entry("--source", "where the torque before comes from: \"works manual p. 12\"", 1);
    command->add_option("--correct", typed->correct,
                        "the number of the entry that the one given here corrects");
    command->add_option("--end", typed->end, "the number of an entry that does not hold any more");
    add_by(*command, typed->by);
    command->callback([command, typed, &context] { note(*command, *typed, context); });
}

}  // namespace stripbook::cli
